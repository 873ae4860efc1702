# SPDX-License-Identifier: MIT
"""What a show asks of its panes, and what one kind of pane has in store at a height."""

from dataclasses import dataclass

import numpy as np

from glasskit.demonstration.chances import Odds
from glasskit.demonstration.rigs import Specimen
from glasskit.demonstration.spares import MOST, expected_panes, panes_to_bring
from glasskit.quantities import FloatArray, of_type, whole, within


@dataclass(frozen=True, slots=True, kw_only=True)
class Target:
    """What the demonstration shall show, and how surely.

    Attributes
    ----------
    break_share : float
        Least share of the ordinary panes that shall break [-].
    survive_share : float
        Least share of the toughened panes that shall survive [-].
    confidence : float
        Confidence that the panes brought, of all kinds together, suffice for all shows [-].

    Notes
    -----
    A share is an average: over panes like these, and over all that is not known of them.

    """

    break_share: float = 0.8
    survive_share: float = 0.8
    confidence: float = 0.9

    def __post_init__(self) -> None:
        for name in ("break_share", "survive_share", "confidence"):
            within(name, getattr(self, name), 0, 1)

    def share(self, specimen: Specimen) -> float:
        """Return the share of a kind that shall do as asked [-]."""
        return self.break_share if specimen.kind == "annealed" else self.survive_share


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Prospect:
    """What a plan says of one kind of pane.

    Attributes
    ----------
    specimen : Specimen
        Kind of pane.
    odds : Odds
        Chance of breaking against height, with its band.
    shall_break : bool
        Whether it is to break; ordinary panes are, toughened ones are to survive.
    bound : float
        Lowest height at which the target share breaks, or highest at which the target share
        survives [m]; infinite, or the lowest height of the plan, where there is none.
    chance, low, high : float
        Chance of breaking at the plan's height, and its band [-].
    ring : float
        Chance that its struck face cracks in a ring [-]: a bruise, from which the next blow
        may break it.
    expected : float
        Panes used up on average, n over the share that does as asked [-].
    bring : int or None
        Panes to bring so that those of all kinds together suffice, so much being unknown;
        None where no sensible number does.
    bring_if_known : int or None
        Panes of this kind to bring once rehearsals have shown that `chance` is right.

    """

    specimen: Specimen
    odds: Odds
    shall_break: bool
    bound: float
    chance: float
    low: float
    high: float
    ring: float
    expected: float
    bring: int | None
    bring_if_known: int | None

    @property
    def share(self) -> float:
        """Share that does as asked at the plan's height [-]."""
        return self.chance if self.shall_break else 1.0 - self.chance


def rights(specimen: Specimen, chances: FloatArray) -> FloatArray:
    """Return the chance that a pane does as asked, from the chance that it breaks.

    Parameters
    ----------
    specimen : Specimen
        Kind of pane; an ordinary one shall break, others shall not.
    chances : ndarray
        Chance that it breaks [-].

    Returns
    -------
    ndarray
        Chance [-], of the same shape.

    Examples
    --------
    >>> from glasskit.demonstration.rigs import DroppedBall, annealed
    >>> from glasskit.impact import Pane
    >>> from glasskit.materials import glass, solid
    >>> window = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> ball = DroppedBall(mass=0.227, solid=solid("steel"))
    >>> rights(annealed("ordinary", window), np.array([0.9])).item()
    0.9

    """
    of_type("specimen", specimen, Specimen)
    return chances if specimen.kind == "annealed" else 1.0 - chances


def prospect(
    pane: Specimen, found: Odds, height: float, shows: int, target: Target, bring: int | None
) -> Prospect:
    """Return what one kind of pane has in store at the height, and how many panes it takes.

    Parameters
    ----------
    pane : Specimen
        Kind of pane.
    found : Odds
        Its odds.
    height : float
        Height of the plan [m].
    shows : int
        How often it shall do as asked [-].
    target : Target
        What is asked for.
    bring : int or None
        Panes to bring, from `glasskit.demonstration.spares.panes_for_all` [-].

    Returns
    -------
    Prospect
        Chances at the height, and panes to bring.

    Raises
    ------
    ValueError
        If `shows` is below one.

    Notes
    -----
    What holds for `odds_in` and `panes_to_bring` holds here.

    References
    ----------
    Own method, see `plan`.

    Examples
    --------
    >>> from glasskit.demonstration.rigs import DroppedBall, annealed
    >>> from glasskit.impact import Pane
    >>> from glasskit.materials import glass, solid
    >>> window = Pane(length=0.3, width=0.3, thickness=4e-3, glass=glass("soda-lime"))
    >>> ball = DroppedBall(mass=0.227, solid=solid("steel"))
    >>> from glasskit.demonstration.chances import odds_in, worlds_of
    >>> from glasskit.demonstration.worlds import learned
    >>> worlds = worlds_of(["ordinary"], ball, learned(), count=256)
    >>> pane = annealed("ordinary", window)
    >>> found = odds_in(worlds, pane, ball, [0.2, 1.0, 5.0])
    >>> prospect(pane, found, 5.0, 6, Target(), None).shall_break
    True

    """
    of_type("pane", pane, Specimen)
    of_type("found", found, Odds)
    of_type("target", target, Target)
    sets, shows = found.at(height), whole("shows", shows, 1, MOST)
    if bring is not None:
        bring = whole("bring", bring, 0, MOST)
    share = float(rights(pane, sets).mean())
    asked = target.share(pane)
    shall_break = pane.kind == "annealed"
    return Prospect(
        specimen=pane,
        odds=found,
        shall_break=shall_break,
        bound=found.height(asked if shall_break else 1.0 - asked),
        chance=float(sets.mean()),
        low=float(np.quantile(sets, 0.05)),
        high=float(np.quantile(sets, 0.95)),
        ring=float(np.interp(np.log(height), np.log(found.heights), found.rings)),
        expected=expected_panes(share, shows).item() if share > 0 else np.inf,
        bring=bring,
        bring_if_known=panes_to_bring(share, shows, target.confidence),
    )
