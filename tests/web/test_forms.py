"""Forms of a build: nothing typed changes nothing, and every fault stands at its own field."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from barstock.drawing.build_reading import read_written
from barstock.methods import KINDS
from barstock.reading.fields import names_of
from barstock.web.forms import Form, forms_of, judged, owners, proposed, rules_of, typed

SAMPLES = Path(__file__).parents[2] / "src" / "barstock" / "samples"
TEXTS = {path.parent.name: path.read_text("utf-8") for path in SAMPLES.glob("*/build.yaml")}
FREE = {"title", "bar"}
"""Fields that any words will do for; what bars there are is asked of the shop, not of the file."""


@pytest.mark.parametrize("kind", KINDS)
def test_every_field_of_every_kind_is_offered_with_words_about_it(kind: str) -> None:
    offered = rules_of(KINDS[kind].fields)
    assert {one.name for one in offered} == set(names_of(KINDS[kind].fields)) - {"kind"}
    assert all(one.about for one in offered)


def test_choices_are_those_of_the_record() -> None:
    offered = {one.name: one for one in rules_of(KINDS["slot"].fields)}
    assert set(offered["face"].choices) == {"left", "right", "front", "back", "bottom", "top"}
    assert offered["ends"].choices == ("round", "square")
    assert offered["mirrored"].choices == ("true", "false")
    assert offered["width"].choices == ()
    assert offered["face"].needed
    assert not offered["depth"].needed


@pytest.mark.parametrize("sample", TEXTS)
def test_a_form_sent_as_it_came_changes_nothing(sample: str) -> None:
    text = TEXTS[sample]
    for owner in owners(text):
        for form in forms_of(text, owner):
            sent = {f"{at}:{f.asked.name}": f.written for f in form.fields for at in ("f", "was")}
            assert proposed(text, typed(form, sent), form.title)[0] == text


@pytest.mark.parametrize("sample", ["new", "bracket"])
def test_a_fault_stands_beside_the_field_it_concerns(sample: str) -> None:
    text, tried = TEXTS[sample], 0
    for owner in owners(text):
        for form in forms_of(text, owner):
            for field in form.fields:
                if not field.was or field.asked.name in FREE:
                    continue
                name = field.asked.name
                other, spoilt = proposed(text, typed(form, {f"f:{name}": "zzz 1/0"}), form.title)
                faults = read_written(other, Path("x"), KINDS).faults
                found, _ = judged(other, spoilt, faults, str(Path("x") / "build.yaml"))
                beside = {f.asked.name for f in found.fields if f.faults}
                assert name in beside, (form.path, name, faults)
                tried += 1
    assert tried > 20


def test_what_was_not_touched_stays_as_another_has_changed_it() -> None:
    text = TEXTS["new"]
    owner = owners(text)[0]
    form = forms_of(text, owner)[0]
    sent = {f"{at}:{f.asked.name}": f.written for f in form.fields for at in ("f", "was")}
    meanwhile, _ = proposed(text, typed(form, {**sent, "f:copies": "7"}), form.title)
    here: Form = forms_of(meanwhile, owner)[0]
    mine = typed(here, {**sent, "f:title": "Another title"})
    both, _ = proposed(meanwhile, replace(mine), form.title)
    assert "copies: 7" in both
    assert "title: Another title" in both
