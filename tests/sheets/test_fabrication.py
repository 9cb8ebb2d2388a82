"""A fabrication's drawing: numbered pieces, their list, and the joints' signs."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from barstock import api
from barstock.sheets.draw import draw_part
from barstock.sheets.joint_symbols import PROCESS
from barstock.sheets.sheet import Layer, Text, around

SMALL = Path(__file__).parents[1] / "joining" / "small"


def test_pieces_are_numbered_and_listed_and_joints_carry_their_sign() -> None:
    build, _ = api.read(SMALL)
    sheet = draw_part(build.part("stand"), build)
    words = Counter(sheet.words)
    # two cheeks are alike: one number, twice; each number in its circle and in the list
    assert words["1"] >= 2
    assert words["2"] >= 2
    assert {"cheek", "bridge", "brass"} <= set(words)
    # two joints, each with process (ISO 4063) and filler (ISO 17672) in its tail
    assert words[f"{PROCESS}, Ag 155"] == 2


def test_the_list_stands_on_the_title_block_and_nothing_is_drawn_on_it() -> None:
    build, _ = api.read(SMALL)
    with_list = draw_part(build.part("stand"), build)
    of_piece = draw_part(build.part("cheek"), build)
    names = {ink.words: ink for ink in with_list.ink if isinstance(ink, Text)}
    caption = next(i for i in of_piece.ink if isinstance(i, Text) and i.words == "build")
    assert names["piece"].at[1] > caption.at[1]
    assert names["cheek"].at[1] > names["piece"].at[1]
    assert names["bridge"].at[1] > names["cheek"].at[1]


def test_the_fixture_shows_where_no_filler_may_go() -> None:
    """The stand's feet, 8 x 16, are 40 from end to end in the middle of a block 20 wide. Each is
    painted 4 mm round, as far as the block goes."""
    build, _ = api.read(SMALL)
    sheet = draw_part(build.part("stand fixture"), build)
    chain = sheet.strokes(Layer.TREATED)
    assert len(chain) == 8
    long = [s for s in chain if abs(s.points[0][1] - s.points[-1][1]) < 1e-6]
    spans = {round(abs(s.points[0][0] - s.points[-1][0]) / sheet.scale, 3) for s in long}
    assert spans == {8 + 2 * 4}
    area = around([p for s in chain for p in s.points])
    assert area.width / sheet.scale == pytest.approx(40 + 2 * 4)
    assert area.height / sheet.scale == pytest.approx(20)
    assert any("no filler" in words for words in sheet.words)
    assert not draw_part(build.part("cheek"), build).strokes(Layer.TREATED)
