"""This module says how to wind a coil spring in the lathe: mandrel, feed, turns, ends, scragging.

Spring-back. Wire wound round a mandrel is bent all through beyond what it springs back from, by a
moment of (4/3) r³ S where S is the stress it yields at; let go, it opens by that moment over E I:

    1/R wound - 1/R free = 16 S / (3 π r E)                (plastic bending of a round bar)

S is taken as the wire's tensile strength. A trial coil tells the true figure for the wire at hand,
which is then the same for any coil of it. The length of wire in the coil does not change, so turns
wound become fewer as it opens.

Length. Let go, a coil also springs back along its axis, by how much no simple sum tells: the trial
coil, wound at the sheet's feed, is measured along it too, and the feed is put right by that share.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from barstock.handbook.spring_grades import MODULUS
from barstock.mechanism.springs.compression_spring import Compression
from barstock.mechanism.springs.spring_candidate import AnyChoice
from barstock.mechanism.springs.torsion_spring import Torsion

CLOSE_AT_ENDS = 1
"""So many turns are closed up at each end, which do not work. EN 13906-1, 9.8."""

GROUND = 0.75
"""An end is ground flat so far round, in turns. Common practice; EN 15800 asks for 0.75 (from
memory)."""

TO_HOLD = 1.5
"""So many more turns are wound, to cut off where the wire was held. Common practice."""

TRIED = 5
"""A trial coil has so many turns. Common practice."""

TIP = "a quarter of the wire"
"""Grinding leaves this of the wire at the very end. Common practice."""

SCRAGGED = 3
"""A spring is pressed solid so many times. Common practice."""

CAUTION = (
    "A spring being wound stores energy and the wire's end whips: wear eye protection, turn the "
    "lathe by hand or in its slowest gear, hold the wire by a clamp, never in the fingers, and "
    "let the coil unwind before the wire is cut. Cover a spring in the press. What the makers of "
    "the wire and of your lathe say comes first."
)


class UnwindableError(ValueError):
    """This is raised where no mandrel gives the spring."""


@dataclass(frozen=True)
class Winding:
    """A Winding is what to do at the lathe. Lengths are in mm.

    mandrel: diameter; feed: per turn of it, for the working turns; turns: to wind, with those to
    cut off; close, grind: turns to close at each end, and how far round to grind them; long: wire
    to cut off the roll; springback: 1/R wound - 1/R free [1/mm]; press: load that brings it solid,
    for scragging [N], 0 where it is not scragged; set_: length it may lose by that.
    """

    mandrel: float
    feed: float
    turns: float
    close: int
    grind: float
    long: float
    springback: float
    press: float
    set_: float


@dataclass(frozen=True)
class Trial:
    """A Trial is a coil wound for trial.

    It has the mandrel it was wound on, its outside diameter once let go, and where it was wound
    open the feed per turn and its length over the wires [mm].
    """

    mandrel: float
    outside: float
    feed: float = 0.0
    length: float = 0.0


def springback(wire: float, strength: float, young: float = MODULUS) -> float:
    """Return 1/R wound - 1/R free [1/mm] for a wire [mm] of a tensile strength and modulus [MPa].

    >>> round(springback(1.0, 2220), 4)
    0.0366
    """
    return 16 * strength / (3 * pi * (wire / 2) * young)


def springback_of(wire: float, trial: Trial) -> float:
    """Return the spring-back that a trial coil shows [1/mm].

    Raises UnwindableError for a coil smaller than wound.
    """
    wound, free = trial.mandrel + wire, trial.outside - wire
    if not 0 < wound <= free:
        raise UnwindableError(
            f"a coil wound on {trial.mandrel:g} mm cannot be {trial.outside:g} mm outside; "
            "give the mandrel's diameter first, then the outside of the coil let go"
        )
    return 2 / wound - 2 / free


def drawn_out(wire: float, trial: Trial) -> float:
    """Return a trial coil's length, between the middles of its end wires, over what was fed.

    It is 1 where no length was measured. Raises UnwindableError for a length that cannot be.
    """
    if not trial.feed:
        return 1.0
    share = (trial.length - wire) / (TRIED * trial.feed)
    if not 0.5 <= share <= 2:
        raise UnwindableError(
            f"{TRIED} turns wound at {trial.feed:g} mm cannot be {trial.length:g} mm long; give "
            "the feed per turn, then the length of the coil let go, over its end wires"
        )
    return share


def winding(choice: AnyChoice, trial: Trial | None = None) -> Winding:
    """Work out how to wind a spring. Raises UnwindableError."""
    made = choice.spring
    back = (
        springback_of(made.wire, trial)
        if trial
        else springback(made.wire, choice.strength, made.young)
    )
    wound = 2 / (2 / made.mean + back)
    mandrel = wound - made.wire
    if mandrel < made.wire / 2:
        raise UnwindableError(f"{made.wire:g} mm wire would want a mandrel of {mandrel:.2f} mm")
    shrinks = made.mean / wound
    coils = made.turns if isinstance(made, Compression) else made.turns + _loops(choice)
    turns = coils * shrinks + TO_HOLD
    press = set_ = 0.0
    feed, close, grind = made.wire, 0, 0.0
    if isinstance(made, Compression):
        closed = made.turns - made.active
        close = CLOSE_AT_ENDS if closed else 0
        feed = made.pitch / shrinks / (drawn_out(made.wire, trial) if trial else 1)
        grind = GROUND if made.ends == "closed and ground" else 0.0
        press = made.solid_load
        set_ = _set(choice, made)
    return Winding(mandrel, feed, turns, close, grind, turns * pi * wound, back, press, set_)


def _loops(choice: AnyChoice) -> float:
    """Return the turns to bend up into loops or legs, one at each end."""
    return 0.0 if isinstance(choice.spring, Torsion) else 2.0


def _set(choice: AnyChoice, made: Compression) -> float:
    """Return by how much longer to wind it: what pressing it solid takes off [mm].

    Common practice: a spring loses nothing below half its wire's tensile strength, and above that
    as much as the stress is more.
    """
    over = made.stress(made.solid_load) - 0.5 * choice.strength
    return max(0.0, over / made.stress(made.rate))
