"""Is a fillet of filler in the way where joined work is held later?"""

from __future__ import annotations

from collections.abc import Iterator

from barstock.proving.placing import FAR
from barstock.proving.proof_record import Stage, Violation
from barstock.route import JointToMake, Setup
from barstock.solids.shapes import box

BIT = 0.01  # less filler between work and jaw is none [mm3]


def in_the_way(joints: tuple[JointToMake, ...], setup: Setup, stage: Stage) -> Iterator[Violation]:
    """Fillets that lie in a vise's jaws, or under the work, as it is held for a setup: taken as
    square bars, they are filed back there."""
    held = setup.holding
    if held.jaws_to <= held.jaws_from or held.tilt or held.block is not None:
        return
    places = {
        "the fixed jaw": box((held.jaws_from, 0.0, -FAR), (held.jaws_to, FAR, held.jaw_top)),
        "the moving jaw": box(
            (held.jaws_from, -FAR, -FAR), (held.jaws_to, -stage.opening, held.jaw_top)
        ),
        "what it rests on": box((-FAR, -FAR, -FAR), (FAR, FAR, held.packing)),
    }
    for joint in joints:
        for low, high in joint.fillets:
            bar = box(low, high).moved(stage.placement)
            for name, place in places.items():
                if bar.common(place).volume > BIT:
                    yield Violation(
                        f"the fillet of '{joint.name}' lies against {name}",
                        "file it back there first, or relieve a soft jaw for it",
                        setup=setup.id,
                        severity="warning",
                    )
