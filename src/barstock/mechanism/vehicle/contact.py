"""Least energy under contacts: where things that may touch, lift or run solid come to rest.

The least of ½ x'P x - f'x with A x <= b, P positive semi-definite. Its optimum satisfies exactly

    P x + A'm = f,   A x <= b,   m >= 0,   m'(b - A x) = 0

so m are the forces in the contacts: none where there is a gap, none that pull. Which contacts are
closed is guessed (those of the last answer) or found by an interior-point solver; then the linear
equations of the closed ones are solved, so that what remains is rounding.
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
    for scaled in (True, False):  # where one goes round in circles the other does not
        m, gap = _interior(p, f, a, b, scaled)
        found = settled(p, f, a, b, m > gap)
        if found is not None:
            return found
    raise NoRestError("no state of rest was found")


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


def _interior(p: Array, f: Array, a: Array, b: Array, scaled: bool) -> tuple[Array, Array]:
    """Forces and gaps near the optimum; how near is judged by who uses them."""
    import clarabel
    import numpy as np
    from scipy.sparse import csc_matrix

    settings = clarabel.DefaultSettings()
    settings.verbose = False
    settings.equilibrate_enable = scaled
    solver = clarabel.DefaultSolver(
        csc_matrix(np.triu(p)),
        -f,
        csc_matrix(a),
        b,
        [clarabel.NonnegativeConeT(len(b))],
        settings,
    )
    found = solver.solve()
    status = clarabel.SolverStatus
    if found.status in (status.DualInfeasible, status.AlmostDualInfeasible):
        raise NoRestError("no state of rest was found: nothing holds it")
    return np.array(found.z), np.array(found.s)
