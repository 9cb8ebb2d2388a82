"""States of rest against trying every set of closed contacts, on small cases."""

from __future__ import annotations

from itertools import product
from typing import Any

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from barstock.mechanism.vehicle.contact_forces import Contacts, NoRestError


def energy(p: Any, f: Any, x: Any) -> float:
    return float(0.5 * x @ p @ x - f @ x)


def by_trying(p: Any, f: Any, a: Any, b: Any) -> float:
    """Least energy over every set of contacts held closed."""
    best = np.inf
    for held in product((False, True), repeat=len(b)):
        on = np.flatnonzero(held)
        size = len(f) + len(on)
        kkt = np.zeros((size, size))
        kkt[: len(f), : len(f)], kkt[: len(f), len(f) :] = p, a[on].T
        kkt[len(f) :, : len(f)] = a[on]
        x = np.linalg.lstsq(kkt, np.concatenate([f, b[on]]), rcond=None)[0][: len(f)]
        if (a @ x <= b + 1e-7).all():
            best = min(best, energy(p, f, x))
    return float(best)


@given(st.integers(0, 10_000))
@example(455)  # five contacts on less freedom: an interior-point method of our own gave up
@settings(max_examples=60, deadline=None)
def test_no_set_of_closed_contacts_gives_less_energy(seed: int) -> None:
    rng = np.random.default_rng(seed)
    n, contacts = int(rng.integers(1, 5)), int(rng.integers(1, 6))
    root = rng.normal(size=(n, n))
    p, f = root @ root.T + 0.1 * np.eye(n), rng.normal(size=n) * 5
    a, b = rng.normal(size=(contacts, n)), rng.uniform(0.1, 2, contacts)
    found = Contacts(a).rest(p, f, b)
    assert found.residual < 1e-7
    assert (a @ found.x <= b + 1e-7).all()
    assert (found.forces >= -1e-7).all()
    assert energy(p, f, found.x) == pytest.approx(by_trying(p, f, a, b), rel=1e-6, abs=1e-8)


@given(st.integers(0, 10_000))
@settings(max_examples=60, deadline=None)
def test_what_is_unstable_falls_to_a_place_that_no_small_move_betters(seed: int) -> None:
    """Whatever its stiffness, negative too, within a box and a few more contacts."""
    rng = np.random.default_rng(seed)
    n, more = int(rng.integers(1, 5)), int(rng.integers(0, 5))
    root = rng.normal(size=(n, n))
    p, f = root + root.T, rng.normal(size=n)
    a = np.vstack([np.eye(n), -np.eye(n), rng.normal(size=(more, n))])
    b = np.append(np.ones(2 * n), rng.uniform(0.1, 1, more))
    contacts = Contacts(a)
    found = contacts.fall(p, f, b, contacts.rest(np.eye(n), np.zeros(n), b))
    assert found.residual < 1e-7
    assert energy(p, f, found.x) <= 1e-9  # it began at no energy
    for move in rng.normal(size=(200, n)) * 1e-4:
        x = found.x + move
        if (a @ x <= b).all():
            assert energy(p, f, x) >= energy(p, f, found.x) - 1e-12


def test_a_rigid_table_on_four_legs_shares_evenly() -> None:
    """Four legs carry what three could: of all sharings the least forces are given."""
    legs = np.array([[-1.0, x, y] for x in (1, -1) for y in (1, -1)])  # heave, two tilts
    found = Contacts(legs).rest(np.zeros((3, 3)), np.array([-8.0, 0, 0]), np.zeros(4))
    assert found.forces == pytest.approx([2, 2, 2, 2])
    assert found.x == pytest.approx([0, 0, 0], abs=1e-9)


def test_nothing_below_is_no_rest() -> None:
    with pytest.raises(NoRestError):
        Contacts(np.array([[-1.0]])).rest(np.zeros((1, 1)), np.array([1.0]), np.array([1.0]))
