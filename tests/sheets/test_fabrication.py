"""A fabrication's drawing: numbered pieces, their list, and the joints' signs."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

from barstock import api
from barstock.sheets.draw import draw_part
from barstock.sheets.joints import PROCESS
from barstock.sheets.sheet import Text

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
