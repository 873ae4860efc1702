# SPDX-License-Identifier: MIT
"""Ask what the planner would have said of the falls of 1876, before they were made.

Odds beside outcomes, for fifteen falls of four pieces: enough to show that the planner is not
absurd, not to prove it right. See `glasskit.impact.falls_1876`.
"""

from dataclasses import dataclass

import numpy as np
from scipy.stats import qmc

from glasskit.demonstration.chances import PANES, SETS, strike
from glasskit.demonstration.inputs import STRENGTH, factor
from glasskit.demonstration.rigs import DroppedBall, FallingPane, Specimen, annealed, toughened
from glasskit.impact import BRONZE, Fall, Pane, far_face_stress, measured_falls
from glasskit.materials import glass
from glasskit.quantities import FloatArray, whole
from glasskit.tables import read, sourced_value

__all__ = ["Hindsight", "hindsight"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Hindsight:
    """Odds of one fall beside its outcome.

    Attributes
    ----------
    fall : Fall
        As printed; `fall.broke` is the outcome.
    chance, low, high : float
        Chance that a fresh plate breaks at this fall, and its band [-].
    given_held : float
        Chance that this plate breaks, which withstood the falls before [-].

    """

    fall: Fall
    chance: float
    low: float
    high: float
    given_held: float


def hindsight(seed: int = 0) -> tuple[Hindsight, ...]:
    """Return what the planner would have said of each fall of 1876.

    Parameters
    ----------
    seed : int
        The same seed gives the same odds.

    Returns
    -------
    tuple of Hindsight
        In the order of the falls.

    Raises
    ------
    ValueError
        If `seed` is no whole number from zero up.

    Notes
    -----
    Thickness, frame and floor are spread over what the text leaves open
    (`glasskit.impact.falls_1876.far_face_stress`). Surface compression of the toughened
    plates: a judgement for a quench in a hot bath, 100 to 250 MPa. Falls of the same piece
    share their flaws: the chance after some were withstood counts only what the higher fall
    adds.

    References
    ----------
    [Barff1876]

    Examples
    --------
    One answer for each of the fifteen falls:

    >>> len(hindsight())
    15

    """
    seed = whole("seed", seed)
    found, before = [], np.zeros(SETS)
    piece: tuple[str, bool] | None = None
    for fall in measured_falls():
        if (fall.glass, fall.ball_mass > 0) != piece:
            piece, before = (fall.glass, fall.ball_mass > 0), np.zeros(SETS)
        sets = _chances(fall, seed)
        sound = 1.0 - before
        found.append(
            Hindsight(
                fall=fall,
                chance=float(sets.mean()),
                low=float(np.quantile(sets, 0.05)),
                high=float(np.quantile(sets, 0.95)),
                given_held=float(np.maximum(sets - before, 0.0).sum() / sound.sum()),
            )
        )
        before = np.maximum(before, sets)
    return tuple(found)


def _chances(fall: Fall, seed: int) -> FloatArray:
    """Return the chance that a fresh plate breaks, for every set of inputs."""
    rng = np.random.default_rng(seed)  # the same for every fall: the same plates
    spread = qmc.Halton(len(STRENGTH) + 1, rng=rng).random(SETS).T
    factors = {name: factor(name, 2 * spread[i] - 1) for i, name in enumerate(STRENGTH)}
    reach = far_face_stress(fall)
    tension = reach.low * (reach.high / reach.low) ** spread[-1]
    specimen = _plate(fall)
    modulus = specimen.flaws.modulus * factors["flaw modulus"]
    area = _area(specimen.pane, fall, modulus) * factors["flaw area"]
    return strike(specimen, tension[:, None], area, factors, PANES, rng)[:, 0]


def _plate(fall: Fall) -> Specimen:
    pane = Pane(
        length=fall.length,
        width=fall.width,
        thickness=fall.thickness,
        glass=glass("soda-lime"),
    )
    if fall.glass == "ordinary":
        return annealed("ordinary", pane)
    row = next(row for row in read("planner") if row["subject"] == "hindsight")
    return toughened("toughened", pane, sourced_value(row).value)


def _area(pane: Pane, fall: Fall, modulus: FloatArray) -> FloatArray:
    rig = DroppedBall(mass=fall.ball_mass, solid=BRONZE) if fall.ball_mass else FallingPane()
    return rig.area(pane, rig.blow(pane, [fall.height]), modulus)
