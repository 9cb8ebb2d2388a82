"""Why an operation stands where it does, and what it would cost otherwise, in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from barstock.route.explanation import Change, ChangeKind, WhatIf, Why
from barstock.words.filling_in import Sentence, filled, title_of
from barstock.words.operation_titles import title
from barstock.words.reader import Reader
from barstock.words.reasons import choice, reason, rule
from barstock.words.setup_titles import setup_title

STAGES = {"bar": "in the bar", "piece": "on the sawn piece"}
CHANGES: Mapping[ChangeKind, Sentence[Change]] = {
    ChangeKind.BEFORE: "before '{operation}'",
    ChangeKind.AFTER: "after '{operation}'",
    ChangeKind.HELD: "{stage}, with the {up} up",
    ChangeKind.TOOL: "with the {tool}",
}
MOST = 3
"""Operations of a setup named at most."""


@dataclass(frozen=True)
class ToldChange:
    """One thing done otherwise, in words. minutes: more in all; None: it cannot be, `because`."""

    words: str
    minutes: float | None
    because: tuple[str, ...] = ()


@dataclass(frozen=True)
class Told:
    """All there is to say of one operation's place, in words.

    rules: what must come before it; followers: what must wait for it; savings: of its place.
    """

    operation: str
    title: str
    setup: str
    place: str
    rules: tuple[str, ...]
    followers: tuple[str, ...]
    savings: tuple[str, ...]
    what_if: tuple[ToldChange, ...]


def explained(found: Why, reader: Reader) -> Told:
    """An explanation in words."""
    titles = {o.id: title(o, reader) for o in found.operations}
    return Told(
        found.operation,
        titles[found.operation],
        str(found.number),
        f"{setup_title(found.setup)}, setup {found.number} of {found.of}, "
        f"{found.setup.copies} to load",
        tuple(_rules(found, reader, titles)),
        tuple(
            f"'{title_of(name, titles)}' waits for it: {reason(why, reader, titles)}"
            for name, why in found.followers.items()
        ),
        tuple(_savings(found, reader, titles)),
        tuple(_change(one, reader, titles) for one in found.what_if),
    )


def _rules(found: Why, reader: Reader, titles: Mapping[str, str]) -> Iterator[str]:
    for why in found.rules:
        words = reason(why, reader, titles)
        yield f"after '{title_of(why.after, titles)}': {words}" if why.after else words


def _savings(found: Why, reader: Reader, titles: Mapping[str, str]) -> Iterator[str]:
    ids = [o.id for o in found.setup.operations]
    yield from (reason(why, reader, titles) for why in found.savings)
    if found.alone:
        others = [titles[name] for name in ids if name != found.operation]
        shown = others[:MOST] + [f"{len(others) - MOST} more"] * (len(others) > MOST)
        yield (
            f"in one setup with {', '.join(shown)}: a setup of its own would take "
            f"{found.alone:.0f} minutes"
        )
    for name, minutes in found.same_tool.items():
        side = "before" if ids.index(name) < ids.index(found.operation) else "after"
        yield (
            f"next to '{titles[name]}', the operation {side} it, by the same tool: a change of "
            f"tool less, {minutes:.1f} minutes"
        )


def _change(one: WhatIf, reader: Reader, titles: Mapping[str, str]) -> ToldChange:
    told = one.change
    names = dict(told.names)
    if "operation" in names:
        names["operation"] = title_of(names["operation"], titles)
    if "stage" in names:
        names["stage"] = STAGES[names["stage"]]
    words = filled(CHANGES[told.kind], told.model_copy(update={"names": names}), reader)
    pinned = (f"pinned: {choice(pin)}" for pin in one.pins)
    because = (*map(rule, one.rules), *pinned, *([one.because] if one.because else []))
    return ToldChange(words, one.minutes, because)


def printed(told: Told) -> str:
    """The explanation as lines of text."""
    lines = [f"{told.operation}: {told.title}", f"  in {told.place}"]
    for heading, words in (
        ("It must come", told.rules),
        ("Others need it first", told.followers),
        ("Its place saves", told.savings),
    ):
        if words:
            lines += [f"{heading}:", *(f"  {line}" for line in words)]
    if told.what_if:
        lines.append("Otherwise:")
    for trial in told.what_if:
        if trial.minutes is None:
            lines.append(f"  {trial.words}: cannot be")
            lines += [f"    {because}" for because in trial.because]
        else:
            cost = f"{trial.minutes:.0f} minutes more" if trial.minutes >= 0.5 else "no more time"
            lines.append(f"  {trial.words}: {cost}")
    return "\n".join(lines)
