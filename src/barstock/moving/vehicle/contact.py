"""Least energy under contacts: where things that may touch, lift or run solid come to rest.

The least of ½ x'P x - f'x with A x <= b, P positive semi-definite. Its optimum satisfies exactly

    P x + A'm = f,   A x <= b,   m >= 0,   m'(b - A x) = 0

so m are the forces in the contacts: none where there is a gap, none that pull. Which contacts are
closed is guessed (those of the last answer) or found by an interior-point method (Mehrotra's, as in
Nocedal and Wright, Numerical Optimization, chapter 16.6); then the linear equations of the closed
ones are solved, so that what remains is rounding.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

Array = Any
"""A numpy array of floats."""

NEAR = 1e-9
"""Allowed violation, of a scale of one [mm, N]."""


class NoRestError(ArithmeticError):
    """No state of rest was found: nothing holds it."""


@dataclass(frozen=True)
class Rest:
    """x: where it rests; forces: in each contact; closed: which touch.

    residual: the greatest of what is left of equilibrium, overlap, pull and force at a gap.
    """

    x: Array
    forces: Array
    closed: Array
    residual: float


def rest(p: Array, f: Array, a: Array, b: Array, guess: Array | None = None) -> Rest:
    """The least of ½ x'p x - f'x under a x <= b. guess: contacts likely closed.

    Raises NoRestError.
    """
    found = settled(p, f, a, b, guess) if guess is not None else None
    if found is not None:
        return found
    m, gap = _interior(p, f, a, b)
    found = settled(p, f, a, b, m > gap)
    if found is None:
        raise NoRestError("no state of rest was found")
    return found


def settled(p: Array, f: Array, a: Array, b: Array, guess: Array) -> Rest | None:
    """A state of rest with contacts closed about as guessed, None where there is none such.

    p need not be positive: where it is not, the state may be one that does not last.
    """
    import numpy as np

    closed = guess.copy()
    for _ in range(12):
        found = _closed(p, f, a, b, closed)
        if found.residual < NEAR * _scale(f):
            return found
        near = NEAR * _scale(f)
        changed = (closed & (found.forces > -near)) | (~closed & (b - a @ found.x < -near))
        if np.array_equal(changed, closed):
            return None
        closed = changed
    return None


def _scale(f: Array) -> float:
    import numpy as np

    return float(max(1.0, np.abs(f).max(initial=0.0)))


def _closed(p: Array, f: Array, a: Array, b: Array, closed: Array) -> Rest:
    """At rest with these contacts closed; least forces where they could share in many ways."""
    import numpy as np

    n, on = len(f), np.flatnonzero(closed)
    rows = a[on]
    kkt = np.zeros((n + len(on), n + len(on)))
    kkt[:n, :n], kkt[:n, n:], kkt[n:, :n] = p, rows.T, rows
    right = np.concatenate([f, b[on]])
    try:
        answer = np.linalg.solve(kkt, right)
        exact = np.abs(kkt @ answer - right).max() < NEAR * _scale(f)
    except np.linalg.LinAlgError:
        exact = False
    if not exact:  # hard contacts that share a load, or something quite free
        answer = np.linalg.lstsq(kkt, right, rcond=1e-13)[0]
    x, forces = answer[:n], np.zeros(len(b))
    forces[on] = answer[n:]
    if len(on) and forces.min() < -NEAR * _scale(f):  # another sharing may do without pulling
        forces[on] = _shared(rows, f - p @ x)
    gap = b - a @ x
    left = (
        np.abs(p @ x + a.T @ forces - f).max(),
        -gap.min(initial=0.0),
        -forces.min(initial=0.0),
        np.abs(forces * gap).max(initial=0.0),
    )
    return Rest(x, forces, closed, float(max(left)))


def _shared(rows: Array, load: Array) -> Array:
    """Forces that push only and carry a load together, the least of them."""
    import numpy as np
    from scipy.optimize import nnls

    faint = 1e-5 * np.eye(len(rows))
    about = nnls(np.vstack([rows.T, faint]), np.append(load, np.zeros(len(rows))))[0]
    pushing = about > 1e-6 * max(1.0, float(about.max()))
    forces = np.zeros(len(rows))
    forces[pushing] = np.linalg.lstsq(rows[pushing].T, load, rcond=1e-13)[0]
    return forces


def _interior(p: Array, f: Array, a: Array, b: Array) -> tuple[Array, Array]:
    """Forces and gaps at the optimum, to about 1e-9."""
    import numpy as np

    n = len(f)
    x = np.zeros(n)
    gap = np.maximum(1.0, b - a @ x)
    m = np.full(len(b), _scale(f) / 10)
    soft = 1e-12 * max(1.0, float(np.abs(p).max(initial=0.0))) * np.eye(n)
    for _ in range(100):
        dual = p @ x - f + a.T @ m
        primal = a @ x + gap - b
        mu = float(gap @ m) / len(b)
        if max(np.abs(dual).max(), np.abs(primal).max(), mu) < 1e-9 * _scale(f):
            return m, gap
        whole = p + soft + a.T @ ((m / gap)[:, None] * a)
        aim = gap * m
        for corrected in (False, True):
            right = -dual - a.T @ ((m * primal - aim) / gap)
            dx = np.linalg.solve(whole, right)
            dgap = -primal - a @ dx
            dm = (-aim - m * dgap) / gap
            if not corrected:
                step = _step(gap, dgap, m, dm, 1.0)
                after = float((gap + step * dgap) @ (m + step * dm)) / len(b)
                aim = gap * m + dgap * dm - mu * (after / mu) ** 3
        step = _step(gap, dgap, m, dm, 0.995)
        x, gap, m = x + step * dx, gap + step * dgap, m + step * dm
        if np.abs(x).max() > 1e9:
            break
    raise NoRestError("no state of rest was found: nothing holds it")


def _step(gap: Array, dgap: Array, m: Array, dm: Array, most: float) -> float:
    """How far both stay above 0."""
    step = 1.0
    for value, change in ((gap, dgap), (m, dm)):
        down = change < 0
        if down.any():
            step = min(step, most * float((-value[down] / change[down]).min()))
    return step
