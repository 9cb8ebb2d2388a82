"""Changes a YAML text as a careful person does: what is not meant stays as it is to the letter.

Every change is read back before it is given out: it says what was meant, and nothing else.
"""

from __future__ import annotations

from typing import Any

from barstock.reading.spans import Path, Span, spans


class EditError(ValueError):
    """Raised where the change cannot be written at that place."""


def source(text: str, path: Path) -> str:
    """The source of the value at a path, as one would type it: a text bare, a table or list as
    YAML.

    Raises KeyError where nothing is.
    """
    span = spans(text).at(path)
    if span.flow is None and span.style in ("", "'", '"'):
        return span.text
    start = _line_start(text, span.start)
    margin = " " * (span.start - start)
    lines = text[span.start : span.end].rstrip().split("\n")
    if span.flow is not False:
        return "\n".join(line.strip() for line in lines)
    return "\n".join([lines[0], *(line.removeprefix(margin).rstrip("\r") for line in lines[1:])])


def put(text: str, path: Path, written: str) -> str:
    """The text with a value changed, or added where its table has none of that name.

    written: as `source` gives it. Raises EditError, KeyError where there is no such table.
    """
    whole = spans(text)
    owner = _owner(whole, path)
    if path[-1] not in owner.inner:
        return _added(text, whole, path, written)
    span = owner.inner[path[-1]]
    if source(text, path) == written:
        return text
    margin = _margin(text, owner)
    if span.flow is False:
        deep = " " * (span.start - _line_start(text, span.start))
    else:
        deep = margin + "  "
    value = _ends_as(text, _value(written, deep, bool(owner.flow), span))
    start, block = span.start, value.lstrip("\r").startswith("\n")
    if block and span.flow is False:
        value = value.lstrip()
    elif block:
        start = span.key[1] + 1
    elif span.flow is False or text[start - 1] == ":":
        start, value = span.key[1] + 1, f" {value}"
    return _read_back(text, text[:start] + value + text[span.end :], path, written)


def remove(text: str, path: Path) -> str:
    """The text without a name and its value. Raises EditError, KeyError where there is none."""
    whole = spans(text)
    owner = _owner(whole, path)
    gone = owner.inner[path[-1]]
    if len(owner.inner) == 1:
        start, new = (owner.start, "{}") if owner.flow else _emptied(text, whole, path)
        end = owner.end if owner.flow else _line_end(text, gone.end)
    elif owner.flow:
        names = list(owner.inner)
        n = names.index(path[-1])
        first, new = n == 0, ""
        start = gone.key[0] if first else owner.inner[names[n - 1]].end
        end = owner.inner[names[1]].key[0] if first else gone.end
    else:
        start, end, new = _line_start(text, gone.key[0]), _line_end(text, gone.end), ""
        if not text[start : gone.key[0]].isspace() and start != gone.key[0]:
            raise EditError("it stands in one line with something else; take it out in the text")
        if end < len(text):
            end = text.index("\n", end) + 1
        else:
            start = max(0, start - 1)
    return _read_back(text, text[:start] + new + text[end:], path, None)


def rename(text: str, path: Path, name: str) -> str:
    """The text with another name at a path. Raises EditError, KeyError where there is none."""
    whole = spans(text)
    owner = _owner(whole, path)
    start, end = owner.inner[path[-1]].key
    if name == path[-1]:
        return text
    if name in owner.inner:
        raise EditError(f"there is a '{name}' already")
    new = text[:start] + _scalar(name, bool(owner.flow), "") + text[end:]
    meant = _said(whole)
    inside = _step_into(meant, path[:-1])
    renamed = {(name if key == path[-1] else key): value for key, value in inside.items()}
    inside.clear()
    inside.update(renamed)
    return _same(new, meant)


def _owner(whole: Span, path: Path) -> Span:
    """The table or list that holds a path's end. Raises EditError where a change of it would
    change what repeats it elsewhere too.
    """
    here = whole
    for step in path[:-1]:
        here = here.inner[step]
        if here.mark:
            raise EditError(f"'{step}' is marked '&{here.mark}' to be repeated elsewhere")
    if path[-1] in here.inner and here.inner[path[-1]].mark:
        raise EditError(f"'{path[-1]}' is marked '&{here.inner[path[-1]].mark}' to be repeated")
    return here


# -- writing ---------------------------------------------------------------------------------------


def _added(text: str, whole: Span, path: Path, written: str) -> str:
    owner, name = whole.at(path[:-1]), str(path[-1])
    if owner.flow is None and owner.text:
        raise EditError(f"'{path[-2]}' holds no names" if len(path) > 1 else "this is no table")
    key = _scalar(name, bool(owner.flow) and bool(owner.inner), "")
    if owner.flow and owner.inner:
        value = _value(written, "", True, None)
        at = list(owner.inner.values())[-1].end
        new = text[:at] + f", {key}: {value}" + text[at:]
        return _read_back(text, new, path, written)
    if owner.inner:
        margin = _margin(text, owner)
        at = _line_end(text, list(owner.inner.values())[-1].end)
        start = at
    else:  # '{}' or nothing after the colon
        above = whole.at(path[:-2]) if len(path) > 1 else whole
        margin = _margin(text, above) + "  " if len(path) > 1 else ""
        start = owner.key[1] + 1 if len(path) > 1 else owner.start
        at = max(owner.end, start)
    line = f"{margin}{key}:"
    value = _value(written, margin + "  ", False, None)
    line += value if value.startswith("\n") else f" {value}"
    new = text[:start] + _ends_as(text, ("\n" if start else "") + line) + text[at:]
    return _read_back(text, new, path, written)


def _ends_as(text: str, new: str) -> str:
    """Lines that end as the text's own do."""
    return new.replace("\n", "\r\n") if "\r\n" in text else new


def _value(written: str, deep: str, flow: bool, before: Span | None) -> str:
    """How a value is written; a block begins with a line of its own, `deep` in."""
    lines = _lines(written)
    if lines[0][:1] in ("{", "[") or (len(lines) > 1 and flow):
        return " ".join(line.strip() for line in lines)
    if len(lines) > 1 or _is_block(lines[0]):
        return "".join(f"\n{deep}{line}" if line.strip() else "\n" for line in lines)
    return _scalar(lines[0], flow, _kept_style(before))


def _lines(written: str) -> list[str]:
    return written.replace("\r\n", "\n").strip().split("\n")


def _is_block(line: str) -> bool:
    """A line such as 'left: 8' or '- 5' is a table or list of one, where it reads as that."""
    try:
        return spans(line).flow is False
    except ValueError:
        return False


def _kept_style(before: Span | None) -> str:
    """Quotation marks that were not needed are a habit, and kept."""
    if before is None or before.style not in ("'", '"'):
        return ""
    return before.style if _reads_as(before.text, before.text, True) else ""


def _scalar(said: str, flow: bool, style: str) -> str:
    if style == "'":
        return "'" + said.replace("'", "''") + "'"
    if not style and _reads_as(said, said, flow):
        return said
    return '"' + said.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _reads_as(written: str, said: str, flow: bool) -> bool:
    try:
        whole = spans(f"[{written}]\n" if flow else f"a: {written}\n")
        found = whole.inner
        (only,) = found.values()
    except ValueError:
        return False
    return only.flow is None and not only.style and only.text == said and said != ""


def _emptied(text: str, whole: Span, path: Path) -> tuple[int, str]:
    if len(path) < 2:
        raise EditError("nothing would be left")
    return whole.at(path[:-1]).key[1] + 1, " {}"


def _margin(text: str, table: Span) -> str:
    """What stands before the names of a block."""
    first = next(iter(table.inner.values()), None)
    at = first.key[0] if first and first.key[0] >= 0 else table.start
    line = text[_line_start(text, at) : at]
    return " " * len(line)


def _line_start(text: str, at: int) -> int:
    return text.rfind("\n", 0, at) + 1


def _line_end(text: str, at: int) -> int:
    if at and text[at - 1] == "\n":
        return at - 1
    end = text.find("\n", at)
    if end < 0:
        return len(text)
    return end - 1 if text[end - 1] == "\r" else end


# -- reading back ----------------------------------------------------------------------------------


def _said(span: Span) -> Any:
    if span.flow is None:
        return span.text
    if any(isinstance(name, int) for name in span.inner):
        return [_said(value) for value in span.inner.values()]
    return {name: _said(value) for name, value in span.inner.items()}


def _step_into(said: Any, path: Path) -> Any:
    for step in path:
        said = said[step]
    return said


def _read_back(before: str, after: str, path: Path, written: str | None) -> str:
    meant = _said(spans(before)) or {}  # a text may hold nothing yet
    if len(path) > 1 and isinstance(_step_into(meant, path[:-1]), str):  # nothing was written there
        _step_into(meant, path[:-2])[path[-2]] = {}
    inside = _step_into(meant, path[:-1])
    if written is None:
        del inside[path[-1]]
    else:
        inside[path[-1]] = _meaning(written)
    return _same(after, meant)


def _meaning(written: str) -> Any:
    lines = _lines(written)
    if lines[0][:1] in ("{", "[") or len(lines) > 1 or _is_block(lines[0]):
        try:
            return _said(spans("\n".join(lines)))
        except ValueError as wrong:
            raise EditError("its brackets, commas or colons cannot be followed") from wrong
    return lines[0]


def _same(text: str, meant: Any) -> str:
    try:
        found = _said(spans(text))
    except ValueError as wrong:
        raise EditError("this cannot be written at that place; change it in the text") from wrong
    if found != meant:
        raise EditError("this cannot be written at that place; change it in the text")
    return text
