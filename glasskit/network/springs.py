# SPDX-License-Identifier: MIT
"""Points in the plane that pull and push in pairs, and the rest they find.

Two kinds of pair: a spring with a length at rest, and a soft contact whose push fades
exponentially with distance, as repulsion between ions does in the form of Born and Mayer.
The plane closes on itself sideways. All numbers here are without unit: lengths in bonds,
stiffness in that of one bond.

The rest is found by Newton's method on the sparse Hessian. Far from rest, where the true
Hessian may point uphill, the part of it that a pressed pair contributes crosswise is left out,
which makes every pair's share positive semidefinite. Near rest the factors of one step serve
the next as well, as long as the forces shrink fast.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import splu

from glasskit.network.sheet import IntArray
from glasskit.quantities import FloatArray

_NEAR = 0.02  # largest force at which the true Hessian is trusted
_WORTH = 0.2  # factors serve again while they cut the largest force to this share
_SLACK = 1e-4  # share of the promised fall in energy that a step must keep (Armijo)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Pairs:
    """Who acts on whom, and how.

    Attributes
    ----------
    springs, contacts : ndarray, shape (s, 2), (c, 2)
        Numbers of the points joined [-].
    rest, stiffness : ndarray, shape (s,)
        Of the springs [-].
    reach : ndarray, shape (c,)
        Distance at which a contact has the stiffness `contact_stiffness` [-].
    contact_stiffness, softness : float
        Stiffness at reach, and distance over which the push fades by e [-].
    period : float
        Sideways period [-].
    free : ndarray, shape (f,)
        Numbers of the points that may move, in the order of the unknowns [-]. Neighbours
        near each other in this order halve the time of the factorisation.

    """

    springs: IntArray
    rest: FloatArray
    stiffness: FloatArray
    contacts: IntArray
    reach: FloatArray
    contact_stiffness: float
    softness: float
    period: float
    free: IntArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Pull:
    """What every pair does at one moment: springs first, then contacts.

    Attributes
    ----------
    ends : ndarray, shape (m, 2)
        Numbers of the points joined [-].
    span : ndarray, shape (m, 2)
        From the second point to the first [-].
    length, tension, slope : ndarray, shape (m,)
        Distance, force (pull positive) and its derivative with distance [-].
    energy : float
        Of all pairs together [-].

    """

    ends: IntArray
    span: FloatArray
    length: FloatArray
    tension: FloatArray
    slope: FloatArray
    energy: float


def pull(pairs: Pairs, positions: FloatArray) -> Pull:
    """Work out what every pair does.

    Parameters
    ----------
    pairs : Pairs
        Who acts on whom.
    positions : ndarray, shape (n, 2)
        Of the points [-].

    Returns
    -------
    Pull
        Lengths, forces and energy.

    """
    ends = np.concatenate([pairs.springs, pairs.contacts])
    span = positions[ends[:, 0]] - positions[ends[:, 1]]
    span[:, 0] -= pairs.period * np.round(span[:, 0] / pairs.period)
    length = np.hypot(span[:, 0], span[:, 1])
    springs = len(pairs.springs)
    stretch = length[:springs] - pairs.rest
    gap = (length[springs:] - pairs.reach) / pairs.softness
    push = pairs.contact_stiffness * np.exp(-gap)
    energy = 0.5 * (pairs.stiffness * stretch**2).sum() + pairs.softness**2 * push.sum()
    return Pull(
        ends=ends,
        span=span,
        length=length,
        tension=np.concatenate([pairs.stiffness * stretch, -pairs.softness * push]),
        slope=np.concatenate([pairs.stiffness, push]),
        energy=float(energy),
    )


def gradient(pull: Pull, points: int) -> FloatArray:
    """Return the derivative of the energy with every position, shape (points, 2)."""
    along = pull.span * (pull.tension / pull.length)[:, None]
    first, second = pull.ends.T
    return np.stack(
        [
            np.bincount(first, axis, points) - np.bincount(second, axis, points)
            for axis in along.T
        ],
        axis=-1,
    )


def sideways(pull: Pull) -> FloatArray:
    """Return each pair's share of the energy's slope with sideways strain (the virial) [-]."""
    return pull.tension * pull.span[:, 0] ** 2 / pull.length


def hessian(pull: Pull, free: IntArray, points: int, *, convex: bool = False) -> csc_matrix:
    """Return the second derivative of the energy with the free coordinates.

    Parameters
    ----------
    pull : Pull
        What every pair does.
    free : ndarray, shape (f,)
        Numbers of the points that may move, in the order of the unknowns [-].
    points : int
        How many points there are [-].
    convex : bool
        Leave out what pressed pairs contribute crosswise, so that no direction is uphill.

    Returns
    -------
    csc_matrix, shape (2 f, 2 f)
        Symmetric; x and y of each of the f free points in turn.

    """
    number = np.full((points, 2), -1)
    number[free] = np.arange(2 * len(free)).reshape(-1, 2)
    # Each pair adds its 2 x 2 block to both points and takes it from their crossing.
    places = number[pull.ends].reshape(-1, 4)
    crosswise = pull.tension / pull.length
    if convex:
        crosswise = np.maximum(crosswise, 0.0)
    along = pull.span / pull.length[:, None]
    block = (pull.slope - crosswise)[:, None, None] * along[:, :, None] * along[:, None, :]
    block += crosswise[:, None, None] * np.eye(2)
    blocks = np.tile(block, (1, 2, 2)) * np.kron([[1, -1], [-1, 1]], np.ones((2, 2)))
    rows = np.repeat(places, 4, axis=1).ravel()
    columns = np.tile(places, (1, 4)).ravel()
    kept = (rows >= 0) & (columns >= 0)
    size = 2 * len(free)
    return csc_matrix((blocks.ravel()[kept], (rows[kept], columns[kept])), shape=(size, size))


def settle(
    pairs: Pairs, positions: FloatArray, tolerance: float = 1e-9, steps: int = 100
) -> FloatArray:
    """Let the free points find their rest.

    Parameters
    ----------
    pairs : Pairs
        Who acts on whom.
    positions : ndarray, shape (n, 2)
        Where the points start [-].
    tolerance : float
        Largest force left on a free point, in bond stiffness times bond length [-].
    steps : int
        Newton steps allowed [-].

    Returns
    -------
    ndarray, shape (n, 2)
        Where they come to rest [-].

    Raises
    ------
    RuntimeError
        If no rest is found within `steps`.

    """
    now = pull(pairs, positions)
    last, solve = 0.0, None
    for _ in range(steps):
        force = -gradient(now, len(positions))[pairs.free]
        worst = np.abs(force).max(initial=0.0)
        if worst < tolerance:
            return positions
        convex = bool(worst > _NEAR)
        if solve is None or convex or worst > _WORTH * last:
            solve = _factors(now, pairs.free, len(positions), convex=convex)
        move = solve(force)
        if (force * move).sum() <= 0:
            solve = _factors(now, pairs.free, len(positions), convex=True)
            move = solve(force)
        last = worst
        positions, now = _step(pairs, positions, now, move, (force * move).sum())
    raise RuntimeError(f"the network found no rest in {steps} steps")


def _factors(
    now: Pull, free: IntArray, points: int, *, convex: bool
) -> Callable[[FloatArray], FloatArray]:
    """Factor the Hessian; return what turns forces into a Newton move."""
    # Ordering and pivoting for a symmetric matrix: half the time of the general ones.
    factors = splu(
        hessian(now, free, points, convex=convex),
        permc_spec="MMD_AT_PLUS_A",
        diag_pivot_thresh=0.0,
        options={"SymmetricMode": True},
    )
    return lambda force: np.asarray(factors.solve(force.ravel())).reshape(-1, 2)


def _step(
    pairs: Pairs, positions: FloatArray, now: Pull, move: FloatArray, promise: float
) -> tuple[FloatArray, Pull]:
    """Go along `move`, halved until the energy falls."""
    noise = 1e-13 * now.energy
    for share in 0.5 ** np.arange(20):
        trial = positions.copy()
        trial[pairs.free] += share * move
        there = pull(pairs, trial)
        if there.energy <= now.energy - _SLACK * share * promise + noise:
            return trial, there
    raise RuntimeError("the network's energy does not fall along the Newton step")
