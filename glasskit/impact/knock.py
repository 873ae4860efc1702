# SPDX-License-Identifier: MIT
"""Step a ball and a ringing pane in time, edges held or merely laid on.

Hertz's contact joins the ball to the middle of the pane. Edges that are held answer linearly,
and one unit push tells all. Edges that are laid on press only while they are down: the pane is
then free, and a bed of springs that cannot pull is stepped with it.
"""

from dataclasses import dataclass

import numpy as np
from scipy.fft import irfft, next_fast_len, rfft

from glasskit.impact.ringing import Modes, Pane, Response, response
from glasskit.quantities import GRAVITY, FloatArray

# Places of an edge's half at which its bed is felt.
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(8)
_SWEEPS = 2  # corrections of the bed's push within a step; they settle by a half or more


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Knock:
    """What happened to ball and pane; n blows, k instants, m modes.

    Attributes
    ----------
    answer : Response
        How the pane answers a unit push where its edges are held, with its modes.
    force : ndarray
        Force between ball and glass [N], shape (n, k).
    sinking : ndarray
        Deflection of the middle [m], shape (n, k).
    swung : ndarray or None
        Amplitude of every mode [m kg^0.5], shape (m, n, k), where the edges are laid on.
    lift : ndarray
        How far the edges stand off what they lay on, the highest place of them [m], shape
        (n, k); nowhere above zero where they are held.
    place, velocity : ndarray
        Ball at the end, downwards [m], [m/s], shape (n,).

    """

    answer: Response
    force: FloatArray
    sinking: FloatArray
    swung: FloatArray | None
    lift: FloatArray
    place: FloatArray
    velocity: FloatArray

    def carried(self, per_amplitude: FloatArray) -> FloatArray:
        """Return what the modes make of something, of so much per amplitude in each.

        From shape (s, m) to shape (s, n, k).
        """
        if self.swung is not None:
            return np.tensordot(per_amplitude, self.swung, 1)
        return self._driven(per_amplitude @ self.answer.amplitudes)

    def swings(self) -> FloatArray:
        """Return the amplitude of every mode all along [m kg^0.5], shape (m, n, k)."""
        return self._driven(self.answer.amplitudes) if self.swung is None else self.swung

    def _driven(self, kernel: FloatArray) -> FloatArray:
        """Return what answers a unit push so, under the force of the blow."""
        steps = self.force.shape[-1]
        size = next_fast_len(kernel.shape[-1] + steps - 1, real=True)
        whole = irfft(rfft(kernel, size)[:, None] * rfft(self.force, size), size)
        return np.asarray(whole[..., :steps])

    def swing(self, instant: int) -> FloatArray:
        """Return the amplitude of every mode at an instant [m kg^0.5], shape (m, n)."""
        if self.swung is not None:
            return self.swung[..., instant]
        backwards = self.answer.amplitudes[:, instant::-1]
        return np.asarray(backwards @ self.force[:, : instant + 1].T)


def knock(
    mass: float,
    stiffness: float,
    pane: Pane,
    speed: FloatArray,
    step: float,
    count: int,
    highest: float,
) -> Knock:
    """Step ball and pane from the first touch.

    Parameters
    ----------
    mass : float
        Mass of the ball [kg].
    stiffness : float
        Hertz's stiffness of the contact [N/m^1.5].
    pane : Pane
        What is struck.
    speed : ndarray
        Speeds at touch [m/s], shape (n,).
    step : float
        Time step [s].
    count : int
        How many steps to follow.
    highest : float
        Angular frequency up to which modes move [rad/s].

    Returns
    -------
    Knock
        What happened.

    Notes
    -----
    The weight of the pane is left out: it is some newtons, the blow some thousands.

    """
    answer = response(pane, step, count, highest)
    if pane.edges == "laid":
        return _laid(mass, stiffness, pane, answer, speed)
    balls = [_Ball(mass, stiffness, step, answer.deflection[0], v) for v in speed.tolist()]
    force, sinking = np.zeros((count, speed.size)), np.zeros((count, speed.size))
    backwards = answer.deflection[::-1].copy()
    for now in range(1, count):
        rung = backwards[-now - 1 : -1] @ force[:now]
        force[now] = _moved(balls, rung)
        sinking[now] = rung
    sinking += answer.deflection[0] * force
    return Knock(
        answer=answer,
        force=force.T,
        sinking=sinking.T,
        swung=None,
        lift=np.zeros((speed.size, count)),
        place=np.array([ball.place for ball in balls]),
        velocity=np.array([ball.velocity for ball in balls]),
    )


class _Ball:
    """A falling ball that touches a pane; plain numbers, for which Python is fastest."""

    def __init__(
        self, mass: float, stiffness: float, step: float, give: float, speed: float
    ) -> None:
        self.mass, self.stiffness, self.step = mass, stiffness, step
        self.own = step**2 / (6 * mass)  # its path under a push that rises over the step
        self.give = float(give) + self.own
        self.place, self.velocity, self.push = 0.0, speed, 0.0

    def move(self, rung: float) -> float:
        """Go one step on a pane that would have sunk to `rung` unpushed; return the push."""
        before, push = self.push, 0.0
        fall = GRAVITY / 2 - before / (3 * self.mass)
        free = self.place + self.step * (self.velocity + self.step * fall)
        if free > rung:
            push = _contact_force(free - rung, self.give, self.stiffness)
        self.place = free - self.own * push
        self.velocity = self.velocity + self.step * (
            GRAVITY - (before + push) / (2 * self.mass)
        )
        self.push = push
        return push


def _moved(balls: list[_Ball], rung: FloatArray) -> list[float]:
    """Move every ball one step; return their pushes."""
    return [ball.move(place) for ball, place in zip(balls, rung.tolist(), strict=True)]


def _contact_force(overlap: float, give: float, stiffness: float) -> float:
    """Return the force F of F = k (overlap - give F)^(3/2), overlap being positive."""
    # With s the root of the approach: s^2 + give k s^3 = overlap, convex and rising, so that
    # Newton's steps from above only go down; five of them reach rounding.
    cubic = give * stiffness
    root = float(min(overlap**0.5, (overlap / cubic) ** (1 / 3)))
    for _ in range(5):
        rise = cubic * root
        root -= (root * root * (1.0 + rise) - overlap) / (root * (2.0 + 3.0 * rise))
    return stiffness * root**3


def _laid(
    mass: float, stiffness: float, pane: Pane, answer: Response, speed: FloatArray
) -> Knock:
    """Step a free pane on edges that press and do not pull."""
    found, step, count = answer.modes, answer.step, answer.deflection.size
    edges, bed = _bed(pane, found)
    shift, old, new = answer.turns
    balls = [_Ball(mass, stiffness, step, answer.deflection[0], v) for v in speed.tolist()]
    force = np.zeros((count, speed.size))
    amplitudes = np.zeros((count, found.frequency.size, speed.size))
    swing = np.zeros(amplitudes.shape[1:], complex)
    pushed, pressing = np.zeros(amplitudes.shape[1:]), np.zeros((bed.size, speed.size))
    gain = new.imag[:, None]
    middle = found.deflection[:, None]
    between, among = edges @ (gain * middle), bed[:, None] * (edges @ (gain * edges.T))
    calm = 1.0 / (1.0 + np.abs(among).sum(axis=1, keepdims=True))
    before = pressing
    for now in range(1, count):
        swing = shift[:, None] * swing + old[:, None] * pushed
        free = swing.imag
        pressing, before = 2 * pressing - before, pressing
        push = np.array(_moved(balls, (middle.T @ free - between.T @ pressing)[0]))
        sunk = bed[:, None] * (edges @ free + between * push)
        for _ in range(_SWEEPS):
            error = sunk - among @ pressing - pressing
            pressing = np.maximum(pressing + calm * error, 0.0)
        pushed = middle * push - edges.T @ pressing
        swing = swing + new[:, None] * pushed
        force[now], amplitudes[now] = push, swing.imag
    rest = answer.deflection[0] - found.deflection**2 @ new.imag
    sinking = found.deflection @ amplitudes + rest * force
    lift = -np.min(edges @ amplitudes, axis=1)
    return Knock(
        answer=answer,
        force=force.T,
        sinking=sinking.T,
        swung=np.moveaxis(amplitudes, 0, -1),
        lift=np.maximum(lift, 0.0).T,
        place=np.array([ball.place for ball in balls]),
        velocity=np.array([ball.velocity for ball in balls]),
    )


def _bed(pane: Pane, found: Modes) -> tuple[FloatArray, FloatArray]:
    """Return the modes at places along the edges (p, m), and the stiffness of each place."""
    half = (_NODES + 1) / 4
    ends = np.full(half.size, 0.5)
    along = pane.length * np.concatenate([half, ends])
    across = pane.width * np.concatenate([ends, half])
    size = np.concatenate(
        [pane.length * _WEIGHTS, pane.width * _WEIGHTS]
    )  # of four places alike
    return found.shapes.values(along, across) @ found.vectors, pane.bedding * size
