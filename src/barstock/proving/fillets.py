"""Is a fillet of filler in the way where joined work is held later?"""

from __future__ import annotations

from collections.abc import Iterator

from barstock.proving.holding import way_of
from barstock.proving.proof_record import Stage, Violation
from barstock.route import JointToMake, Setup
from barstock.solids.shapes import box

BIT = 0.01  # less filler between work and jaw is none [mm3]


def in_the_way(joints: tuple[JointToMake, ...], setup: Setup, stage: Stage) -> Iterator[Violation]:
    """Fillets that lie where something presses on the work or carries it in a setup: taken as
    square bars, they are filed back there."""
    places = way_of(setup.holding).contacts(setup.holding, stage.opening)
    for joint in joints:
        for low, high in joint.fillets:
            bar = box(low, high).moved(stage.placement)
            for name, place in places:
                if bar.common(place).volume > BIT:
                    yield Violation(
                        f"the fillet of '{joint.name}' lies against {name}",
                        "file it back there first, or relieve a soft jaw for it",
                        setup=setup.id,
                        severity="warning",
                    )
