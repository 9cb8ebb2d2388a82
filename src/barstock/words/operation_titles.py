"""What an operation does, in words."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from barstock.route import Operation, Process, SawOff
from barstock.words.reader import Reader

LENGTHS = ("length", "width", "height")


def title(operation: Operation, reader: Reader) -> str:
    """What an operation does, in words."""
    return TITLES[operation.does](operation, reader)


def _of_feature(operation: Operation) -> str:
    return " and ".join(operation.features)


def _plainly(verb: str) -> Callable[[Operation, Reader], str]:
    return lambda operation, _: f"{verb} {_of_feature(operation)}"


def _numbered(verb: str) -> Callable[[Operation, Reader], str]:
    def told(operation: Operation, _: Reader) -> str:
        nth = f" {operation.cut}" if operation.cut else ""
        return f"{verb} {_of_feature(operation)}{nth}"

    return told


def _saw_off(operation: Operation, reader: Reader) -> str:
    each = next((m.each for m in operation.moves if isinstance(m, SawOff)), 0.0)
    return f"saw to {reader.sawn(each)}"


def _face(operation: Operation, _: Reader) -> str:
    face = operation.face
    size = f"to {LENGTHS[face.axis]}" if face and operation.to_size else "clean"
    return f"mill the {face} face {size}"


def _square(operation: Operation, _: Reader) -> str:
    return f"square the {operation.face} end" + (" to length" if operation.to_size else "")


def _flush(operation: Operation, _: Reader) -> str:
    return f"file {_of_feature(operation)} flush with the {operation.face}"


def _tap(operation: Operation, _: Reader) -> str:
    return f"tap {operation.cutter.thread} in {_of_feature(operation)}"


TITLES: Mapping[Process, Callable[[Operation, Reader], str]] = {
    **{process: _plainly(process.value) for process in Process},
    Process.SAW_OFF: _saw_off,
    Process.FACE: _face,
    Process.SQUARE: _square,
    Process.MILL: _numbered("mill"),
    Process.SLIT: _numbered("slit"),
    Process.BEVEL: _numbered("bevel"),
    Process.MILL_ROUND: lambda o, _: f"mill {_of_feature(o)} round",
    Process.SAW: lambda o, _: f"saw {_of_feature(o)} outside the line",
    Process.FILE: lambda o, _: f"file {_of_feature(o)} to the line",
    Process.FILE_FLUSH: _flush,
    Process.TAP: _tap,
}
