"""Length of the fixing screws: in far enough, not bottoming, not proud; what to saw off."""

from __future__ import annotations

from dataclasses import dataclass

from barstock.joining.model import Finding


@dataclass(frozen=True)
class ScrewPlace:
    """Where a screw goes. grip: from under its head to the mouth of the tapped hole [mm], with its
    limits grip_least and grip_most; into: material tapped. full_thread: depth of full thread from
    the mouth [mm]; drilled: depth of the hole to the shoulder of its point [mm], None for through;
    through: thickness of what is tapped where the hole is through [mm]; may_stand_out: how far the
    end may stand out behind [mm]; count: of such screws; steel: the screw, else brass.
    """

    name: str
    thread: str
    grip_least: float
    grip_most: float
    into: str
    full_thread: float
    drilled: float | None = None
    may_stand_out: float = 0.0
    count: int = 1
    screw: str = "steel"


@dataclass(frozen=True)
class ScrewLength:
    """The screw for a place. least, most: lengths that do [mm]; stock: as bought [mm], 0 for none;
    cut_to: what to shorten it to [mm], the stock length where it does as bought; engaged: least
    length of thread in [mm]; wanted: what the material asks for [mm]."""

    place: ScrewPlace
    least: float
    most: float
    stock: float
    cut_to: float
    engaged: float
    wanted: float
    findings: tuple[Finding, ...] = ()

    @property
    def saw_off(self) -> float:
        """What to saw off [mm]."""
        return self.stock - self.cut_to


@dataclass(frozen=True)
class ToShorten:
    """A line of the list of screws to shorten: so many of a thread from one length to another."""

    thread: str
    screw: str
    stock: float
    cut_to: float
    count: int
    places: tuple[str, ...]


def screw_length(place: ScrewPlace, owned: tuple[float, ...] = ()) -> ScrewLength:
    """The length for a place, from the lengths owned, else those commonly sold."""
    raise NotImplementedError


def check_screw(place: ScrewPlace, length: float) -> tuple[Finding, ...]:
    """What is wrong with a given length: bottoms, stands proud, too short; with what would do."""
    raise NotImplementedError


def to_shorten(found: tuple[ScrewLength, ...]) -> tuple[ToShorten, ...]:
    """The screws to shorten, those alike on one line, by thread and length."""
    raise NotImplementedError
