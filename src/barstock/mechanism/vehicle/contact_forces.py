"""This module finds where things that may touch, lift or run solid come to rest.

That is the least of ½ x'P x - f'x with A x <= b. Where x is at rest,

    P x + A'm = f,   A x <= b,   m >= 0,   m'(b - A x) = 0

so m are the forces in the contacts: none where there is a gap, none that pull. An interior-point
solver comes near. From there the thing falls, contact by contact, until nothing pulls and nothing
gives way, and the equations of its closed contacts hold to rounding. P may be negative in falling:
what stands on edge falls from it, and what meets nothing on its way falls for ever.

Every coordinate is measured by how far it moves a contact, and what counts for nothing is a share
of the problem's own lengths, forces and rates: no answer hangs on units or on the last bits.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

Array = Any
"""A numpy array of floats."""

NEAR = 1e-9
"""A length or force counts for nothing that is less than this share of the greatest there is."""

ROUNDING = 1e-13
"""Rounding may leave this much of a sum, as a share of its greatest term."""

FAINT = 1e-6
"""So much stiffness is lent to what nothing holds while the solver comes near, as a share of the
greatest."""

GUESSES = 12
"""So many sets of contacts are tried one from another before the solver is asked."""


class NoRestError(ArithmeticError):
    """This is raised where no state of rest was found: nothing holds the thing."""


@dataclass(frozen=True)
class Rest:
    """A Rest is where a thing rests.

    x: its coordinates; forces: in each contact; closed: the contacts that hold it. residual: the
    greatest of what is left of equilibrium, overlap, pull and force at a gap; near: what counts for
    nothing there.
    """

    x: Array
    forces: Array
    closed: Array
    residual: float
    near: float

    @property
    def exact(self) -> bool:
        """Tell whether what is left is no more than rounding."""
        return self.residual <= self.near * ROUNDING / NEAR


class Contacts:
    """Contacts keep a x <= b. unit: how much of each coordinate moves a contact by one."""

    def __init__(self, a: Array) -> None:
        """Measure the coordinates. a: a row for each contact."""
        import numpy as np

        most = np.abs(a).max(axis=0, initial=0.0)
        self.unit = 1 / np.where(most > 0, most, 1.0)
        self._rows = a * self.unit

    def rest(self, p: Array, f: Array, b: Array, guess: Array | None = None) -> Rest:
        """Find the least of ½ x'p x - f'x under a x <= b. guess: contacts likely closed.

        p is not negative. Raises NoRestError.
        """
        task = self._task(p, f, b)
        found = task.guessed(guess) if guess is not None else None
        return self._unscaled(found or task.from_nowhere())

    def fall(self, p: Array, f: Array, b: Array, begin: Rest) -> Rest:
        """Find where a thing comes to rest under other forces from where it was. Raises
        NoRestError."""
        import numpy as np

        closed = np.flatnonzero(begin.closed)
        return self._unscaled(self._task(p, f, b).fall(begin.x / self.unit, closed))

    def under(self, p: Array, f: Array, b: Array, found: Rest) -> Rest:
        """Return the same place and forces, with what is left of rest under other forces."""
        task = self._task(p, f, b)
        return self._unscaled(task.at(found.x / self.unit, found.forces, found.closed))

    def _task(self, p: Array, f: Array, b: Array) -> _Task:
        return _Task(self.unit[:, None] * p * self.unit, self.unit * f, self._rows, b)

    def _unscaled(self, found: Rest) -> Rest:
        return replace(found, x=self.unit * found.x)


class _Task:
    """A Task is the same problem in coordinates of one kind: lengths, with forces on them.

    length, force, rate: what counts for nothing of each.
    """

    def __init__(self, p: Array, f: Array, a: Array, b: Array) -> None:
        import numpy as np

        self.p, self.f, self.a, self.b = p, f, a, b
        stiffest = float(np.abs(p).max(initial=0.0))
        self.longest = max(1.0, float(np.abs(b).max(initial=0.0)))
        self.length = NEAR * self.longest
        heaviest = float(np.abs(f).max(initial=0.0))
        self.force = max(NEAR * heaviest, ROUNDING * stiffest * self.longest)
        self.rate = max(NEAR * heaviest / self.longest, ROUNDING * stiffest)

    def guessed(self, guess: Array) -> Rest | None:
        """Find rest with contacts closed about as guessed.

        The answer is None where that does not come out.
        """
        import numpy as np

        n, closed = len(self.f), guess
        for _ in range(GUESSES):
            on = np.flatnonzero(closed)
            rows = self.a[on]
            kkt = np.zeros((n + len(on), n + len(on)))
            kkt[:n, :n], kkt[:n, n:], kkt[n:, :n] = self.p, rows.T, rows
            right = np.concatenate([self.f, self.b[on]])
            try:
                answer = np.linalg.solve(kkt, right)
            except np.linalg.LinAlgError:
                return None
            x, forces = answer[:n], np.zeros(len(self.b))
            forces[on] = answer[n:]
            pulls = forces < -self.force
            overlaps = self.a @ x - self.b > self.length
            if not (pulls | overlaps).any():
                found = self.at(x, forces, closed)
                return found if found.residual <= found.near else None
            closed = closed & ~pulls | overlaps
        return None

    def from_nowhere(self) -> Rest:
        """Find rest with nothing known of it before."""
        x, pushing = self._about()
        return self.fall(self._cleared(x), pushing)

    def _about(self) -> tuple[Array, Array]:
        """Come near the optimum, and tell which contacts seem to push there."""
        import clarabel
        import numpy as np
        from scipy.sparse import csc_matrix

        heaviest = float(np.abs(self.f).max(initial=0.0)) or 1.0
        stiff = self.p * (self.longest / heaviest)
        faint = FAINT * max(1.0, float(np.abs(stiff).max(initial=0.0))) * np.eye(len(stiff))
        settings = clarabel.DefaultSettings()
        settings.verbose = False
        found = clarabel.DefaultSolver(
            csc_matrix(np.triu(stiff + faint)),
            -self.f / heaviest,
            csc_matrix(self.a),
            self.b / self.longest,
            [clarabel.NonnegativeConeT(len(self.b))],
            settings,
        ).solve()
        x = np.nan_to_num(np.array(found.x), posinf=0.0, neginf=0.0) * self.longest
        return x, np.flatnonzero(np.array(found.z) > np.array(found.s))

    def _cleared(self, x: Array) -> Array:
        """Return the nearest place to x where nothing overlaps. Raises NoRestError."""
        import numpy as np
        from scipy.optimize import nnls

        over = self.a @ x - self.b
        most = float(over.max(initial=0.0))
        if most <= 0:
            return x
        # the least distance as what is left of a least-squares problem: Lawson and Hanson,
        # Solving Least Squares Problems, chapter 23
        sides = np.vstack([-self.a.T, over / most])
        aim = np.append(np.zeros(len(x)), 1.0)
        left = sides @ nnls(sides, aim)[0] - aim
        if abs(left[-1]) < NEAR:
            raise NoRestError("no state of rest was found: contacts leave no room")
        return x - most * left[:-1] / left[-1]

    def _independent(self, on: Array) -> list[int]:
        """Pick of these contacts as many as do not follow from one another."""
        import numpy as np
        from scipy.linalg import qr

        if not len(on):
            return []
        _, r, order = qr(self.a[on].T, mode="economic", pivoting=True)
        sizes = np.abs(np.diag(r))
        return sorted(on[order[: int((sizes > NEAR * sizes[0]).sum())]].tolist())

    def fall(self, x: Array, closed: Array) -> Rest:
        """Go downhill from x, where nothing overlaps, until nothing pulls and nothing gives.

        closed: contacts to begin with. Of those that pull, and of those met at once, the first goes
        or comes, so that no set of contacts comes back at the same place.
        """
        import numpy as np

        held = self._independent(closed)
        for _ in range(100 * (len(self.b) + len(self.f))):
            free = _Free.of(self, held)
            x = x + free.back(self.b[held] - self.a[held] @ x)
            x, met = self._moved(x, free.settling(self.f - self.p @ x), held, 1.0)
            slope = self.f - self.p @ x
            for loose, least in ((free.neutral, self.force), (free.unstable, 0.0)):
                push = loose.T @ slope
                if met is None and np.abs(push).max(initial=0.0) > least:
                    x, met = self._moved(x, loose @ push / np.abs(push).max(), held, np.inf)
            if met is not None:
                held = [*held, met]
                continue
            forces = np.zeros(len(self.b))
            forces[held] = free.forces(slope)
            pulling = np.flatnonzero(forces < -self.force)
            if not len(pulling):
                closed = np.zeros(len(self.b), dtype=bool)
                closed[held] = True
                forces = self._shared(x, forces, closed)
                return self.at(x, np.maximum(0.0, forces), closed)
            held = [each for each in held if each != pulling[0]]
        raise NoRestError("no state of rest was found: contacts close and open without end")

    def _moved(
        self, x: Array, way: Array, held: list[int], most: float
    ) -> tuple[Array, int | None]:
        """Move x along a way as far as contacts let it, and tell the first one met.

        Raises NoRestError where it would go on for ever.
        """
        import numpy as np

        towards, room = self.a @ way, np.maximum(0.0, self.b - self.a @ x)
        towards[held] = 0.0
        if np.isfinite(most):
            meets = np.flatnonzero(most * towards - room > self.length)
        else:
            meets = np.flatnonzero(towards > NEAR * np.abs(way).max())
        if len(meets):
            far = room[meets] / towards[meets]
            first = int(far.argmin())
            return x + far[first] * way, int(meets[first])
        if np.isfinite(most):
            return x + most * way, None
        raise NoRestError("no state of rest was found: nothing holds it")

    def _shared(self, x: Array, forces: Array, closed: Array) -> Array:
        """Return the least forces that push only and carry a load together.

        Where more contacts touch than are needed they could share it in many ways.
        """
        import numpy as np
        from scipy.optimize import nnls

        on = np.flatnonzero(self.b - self.a @ x <= self.length)
        if closed[on].all():
            return forces
        load = self.f - self.p @ x
        faint = 1e-5 * np.eye(len(on))
        about = nnls(np.vstack([self.a[on].T, faint]), np.append(load, np.zeros(len(on))))[0]
        on = on[about > 1e-6 * float(about.max())]
        shared = np.zeros(len(self.b))
        shared[on] = np.linalg.lstsq(self.a[on].T, load)[0]
        right = self.at(x, shared, closed)
        return shared if right.residual <= right.near else forces

    def at(self, x: Array, forces: Array, closed: Array) -> Rest:
        """Work out what is left of rest at x."""
        import numpy as np

        gap = self.b - self.a @ x
        left = (
            np.abs(self.p @ x + self.a.T @ forces - self.f).max(initial=0.0),
            -gap.min(initial=0.0),
            -forces.min(initial=0.0),
            np.abs(forces * gap).max(initial=0.0),
        )
        return Rest(x, forces, closed, float(max(left)), max(self.force, self.length))


@dataclass(frozen=True)
class _Free:
    """A Free is what held contacts leave free: motions stiff, with their rates, neutral, unstable.

    q, r: the held rows, transposed, as directions and a triangle.
    """

    q: Array
    r: Array
    stiff: Array
    rates: Array
    neutral: Array
    unstable: Array

    @staticmethod
    def of(task: _Task, held: list[int]) -> _Free:
        """Find what these contacts leave free. held: independent ones."""
        import numpy as np

        q, r = np.linalg.qr(task.a[held].T, mode="complete")
        n = len(held)
        free = q[:, n:]
        rates, ways = np.linalg.eigh(free.T @ task.p @ free)
        ways = free @ ways
        stiff, unstable = rates > task.rate, rates < -task.rate
        neutral = ~(stiff | unstable)
        return _Free(
            q[:, :n], r[:n], ways[:, stiff], rates[stiff], ways[:, neutral], ways[:, unstable]
        )

    def back(self, apart: Array) -> Array:
        """Return the least motion that closes what held contacts are apart."""
        import numpy as np

        return self.q @ np.linalg.solve(self.r.T, apart)

    def forces(self, load: Array) -> Array:
        """Return the forces in the held contacts from what they carry."""
        import numpy as np

        return np.linalg.solve(self.r, self.q.T @ load)

    def settling(self, slope: Array) -> Array:
        """Return the motion to where stiff motions are at rest."""
        return self.stiff @ (self.stiff.T @ slope / self.rates)
