# SPDX-License-Identifier: MIT
"""Say of the falls of 1876 what the planner says today, beside what happened.

The struck plates are among the drops that taught the planner
(`glasskit.demonstration.posterior`), those that fell flat are not. See
`glasskit.impact.falls_1876`.
"""

from dataclasses import dataclass

import numpy as np

from glasskit.demonstration.posterior import judged, plates_of_1876
from glasskit.demonstration.worlds import draw_worlds, learned
from glasskit.impact.falls_1876 import Fall, measured_falls

_WORLDS = 256


@dataclass(frozen=True, slots=True, kw_only=True)
class Hindsight:
    """Odds of one fall beside its outcome.

    Attributes
    ----------
    fall : Fall
        As printed; its `broke` is the outcome.
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


def hindsight() -> tuple[Hindsight, ...]:
    """Return what the planner says of each fall of 1876.

    Returns
    -------
    tuple of Hindsight
        In the order of the falls.

    Notes
    -----
    Lot and rig of each plate are spread over what the text leaves open. Falls of the same
    piece share their flaws: the chance after some were withstood counts only what the higher
    fall adds.

    References
    ----------
    [Barff1876]

    Examples
    --------
    One answer for each of the fifteen falls:

    >>> len(hindsight())
    15

    """
    falls, found = iter(measured_falls()), []
    world = draw_worlds([], [], learned(), _WORLDS, 0).places
    for case in plates_of_1876():
        chances = judged(case, world).reshape(-1, len(case.hits))
        before = np.zeros(len(chances))
        for chance in chances.T:
            found.append(
                Hindsight(
                    fall=next(falls),
                    chance=float(chance.mean()),
                    low=float(np.quantile(chance, 0.05)),
                    high=float(np.quantile(chance, 0.95)),
                    given_held=float(
                        np.maximum(chance - before, 0.0).sum() / (1.0 - before).sum()
                    ),
                )
            )
            before = np.maximum(before, chance)
    return tuple(found)
