"""Where a joint's gap comes from: sizes that fit into each other, the fixture, shims."""

from __future__ import annotations

from pathlib import Path

import pytest

from barstock import api
from barstock.errors import FaultyError
from barstock.fabricating.fabrication_record import screws_to_buy, shortened
from barstock.fabricating.gap_chain import GapFrom, gap_from
from barstock.fabricating.joining_plan import joining_plan
from barstock.handbook.screw_lengths import METRIC
from barstock.quantities import Unit
from barstock.route import GapKind, GapSetBy
from barstock.words.joint_gaps import gap_set_by
from barstock.words.reader import Reader
from barstock.words.shopping import item as words

from .test_fabrication_at_heat import RAIL, SHOP

SMALL = Path(__file__).parent / "small"

POST = """build: Post
parts:
  foot:
    material: mild steel
    length: 40
    width: 20
    height: 12
    bar: 20 x 12
    as bought: [front, back, top, bottom]
    features:
      groove: {kind: slot, face: top, along: width, position: {length: centre}, width: GROOVE,
               depth: 5}
      screw: {kind: hole, face: bottom, at: {length: centre, width: centre}, clearance for: M3,
              depth: through}
  tongue:
    material: mild steel
    length: 30
    width: 20
    height: TONGUE
    bar: 20 x 12
    as bought: [front, back]
    features:
      screw: {kind: hole, face: left, at: {width: centre, height: centre}, thread: M3, depth: 10,
              drill depth: 13}
fabrications:
  post:
    length: 40
    width: 20
    height: 37
    pieces:
      foot: {part: foot, at: {length: centre, width: centre, bottom: 0}}
      tongue:
        part: tongue
        turned: {left: bottom, back: back}
        at: {length: centre, width: centre, bottom: 7}
    joints:
      root: {between: [foot, tongue], form: FORM, filler: Ag 155, gap: GAP}
    fixing screws:
      root screw: {through: foot/screw, into: tongue/screw}
"""


def post(folder: Path, groove: str, tongue: str, gap: str, form: str = "spigot") -> GapFrom:
    """A tongue that stands in a groove, soldered round its foot."""
    text = POST.replace("GROOVE", groove).replace("TONGUE", tongue)
    text = text.replace("GAP", gap).replace("FORM", form)
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    (folder / "workshop.yaml").write_text(SHOP, encoding="utf-8")
    joined = api.read(folder)[0].part("post").joined
    assert joined is not None
    return gap_from(joined, joined.joints[0])


@pytest.mark.parametrize("form", ["spigot", "tee"])
def test_a_tongue_in_a_groove_leaves_half_the_difference(tmp_path: Path, form: str) -> None:
    """8.20 +0.04/0 over 8 +0/-0.06: (8.20 - 8.00)/2 to (8.24 - 7.94)/2."""
    found = post(tmp_path, "8.2 +0.04/0", "8 +0/-0.06", "0.1 to 0.15", form)
    assert found.inner == "tongue"
    assert found.gap is not None
    assert (found.gap.least, found.gap.most) == (pytest.approx(0.1), pytest.approx(0.15))
    words = gap_set_by(found.set_by, Reader())
    assert "foot groove width 8.2 +0.04/0" in words
    assert "0.10 to 0.15 mm on each side" in words
    # 8.20 to 8.24 and 7.94 to 8 in inches, rounded inward
    in_inches = gap_set_by(found.set_by, Reader(Unit.INCH))
    assert "0.0039 to 0.0059 in on each side" in in_inches
    assert (
        "+ foot groove width 0.3229 to 0.3244 in, - tongue height 0.3126 to 0.3149 in" in in_inches
    )


def test_a_gap_written_otherwise_than_the_sizes_leave_it_is_told(tmp_path: Path) -> None:
    post(tmp_path, "8.2 +0.04/0", "8 +0/-0.06", "0.05 to 0.1")
    (told,) = [fault for fault in api.check(tmp_path) if "sizes leave" in fault.what]
    assert told.grade == "warning"
    assert "written 0.05 to 0.1, but its sizes leave 0.10 to 0.15 mm" in told.what


def test_sizes_that_allow_the_gap_written_are_fitted_to_it(tmp_path: Path) -> None:
    """8.1 ±0.2 over 8 ±0.2 leaves -0.15 to 0.25, so the tongue may not go in at all; but 0.05 to
    0.1 lies within that, and is what the drawing wants."""
    post(tmp_path, "8.1 ±0.2", "8 ±0.2", "0.05 to 0.1")
    told = [fault for fault in api.check(tmp_path) if "root" in fault.what]
    assert {fault.grade for fault in told} == {"warning"}
    assert any("sizes leave -0.15 to 0.25 mm" in fault.what for fault in told)
    assert not any("press on each other" in fault.what for fault in told)


def test_corners_that_are_filed_out_do_not_run_in(tmp_path: Path) -> None:
    """A tongue 20 x 8 through a slot of that size: R 2 in its corners is what a cutter leaves."""
    text = POST.replace("TONGUE", "8").replace("FORM", "tee").replace("GAP", "0.02 to 0.08")
    groove = text.index("      groove:")
    slot = (
        "      groove: {kind: slot, face: top, along: width, position: {length: centre}, width: 8, "
        "depth: 5, length: 16, middle: {width: centre}, ends: square}\n"
    )
    text = text[:groove] + slot + text[text.index("      screw: {kind: hole, face: bottom") :]
    text = text.replace("    width: 20\n    height: 8", "    width: 16\n    height: 8")
    (tmp_path / "build.yaml").write_text(text, encoding="utf-8")
    (tmp_path / "workshop.yaml").write_text(SHOP, encoding="utf-8")
    assert not [fault for fault in api.check(tmp_path) if "run into each other" in fault.what]


def test_a_gap_that_the_sizes_make_too_wide_stops_the_plan(tmp_path: Path) -> None:
    """(8.6 - 8)/2 is 0.3 mm: twice what Ag 155 can fill."""
    with pytest.raises(FaultyError, match="too wide to draw filler in"):
        post(tmp_path, "8.6 +0.02/0", "8 +0/-0.02", "0.05 to 0.35")


def test_bars_on_a_fixture_lie_apart_by_its_pitch(tmp_path: Path) -> None:
    """Holes 44 mm apart, out of place by 0.05; each bar's from hole to far end is its 30 mm less
    the 8 from the other, both ±0.2 by ISO 2768-m (6 to 30). So 0.05 + 2 x 0.4 each way."""
    text = RAIL.replace("GAP", "0.15").replace("METAL", "mild steel")
    (tmp_path / "build.yaml").write_text(text, encoding="utf-8")
    (tmp_path / "workshop.yaml").write_text(SHOP, encoding="utf-8")
    joined = api.read(tmp_path)[0].part("rail").joined
    assert joined is not None
    found = gap_from(joined, joined.joints[0])
    assert not found.inner
    assert found.gap is not None
    assert (found.gap.least, found.gap.most) == (pytest.approx(-0.85), pytest.approx(0.85))
    assert found.set_by.kind is GapKind.FIXTURE
    assert "pitch of the fixture 44" in gap_set_by(found.set_by, Reader())


def test_faces_pulled_together_by_screws_are_set_by_shims() -> None:
    joined = api.read(SMALL)[0].part("stand").joined
    assert joined is not None
    found = gap_from(joined, joined.joints[0])
    assert found.gap is None
    assert found.set_by == GapSetBy(kind=GapKind.SHIMS, lengths={"shim": 0.05})


def test_screws_that_the_shop_does_not_list_are_bought_in_lengths_that_are_sold() -> None:
    """ISO 888 has 16 and 20 mm; what is longer than the place lets in is bought and shortened."""
    build, shop = api.read(SMALL)
    bought = {
        (i.names["thread"], i.numbers["stock"]): i for i in screws_to_buy(build.fabrications, shop)
    }
    assert bought
    for (thread, stock), item in bought.items():
        assert stock in METRIC
        assert f"{thread} x {stock:g}" in words(item, Reader(Unit.INCH))
    for line in shortened(build.fabrications, shop):
        assert (line.thread, line.stock) in bought


def test_screws_alike_are_shortened_on_one_line(tmp_path: Path) -> None:
    """Only 20 mm M2 screws are at hand: those of both feet come through 12 mm of fixture and may
    go 6 of thread, less a pitch of 0.4 at the end, in: 17.6 mm at the most."""
    for name in ("build.yaml", "workshop.yaml"):
        text = (SMALL / name).read_text(encoding="utf-8")
        more = "screws: {M2: 20}\n" if name == "workshop.yaml" else ""
        (tmp_path / name).write_text(text + more, encoding="utf-8")
    build, shop = api.read(tmp_path)
    assert joining_plan(build.part("stand"), shop).faults() == []
    assert all(i.names["material"] == "brass" for i in screws_to_buy(build.fabrications, shop))
    (line,) = shortened(build.fabrications, shop)
    assert (line.thread, line.material, line.stock, line.count) == ("M2", "steel", 20, 2)
    assert line.cut_to <= 17.6
    assert line.places == ("stand: left foot", "stand: right foot")
