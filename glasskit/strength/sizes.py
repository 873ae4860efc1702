# SPDX-License-Identifier: MIT
"""Say how many specimens a claim about strength needs, and what a proof test leaves.

The modulus is far less certain than the scale: from ten specimens it comes out anywhere
between three quarters and almost twice the truth.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import ndtri

from glasskit.crack import griffith_depth
from glasskit.crack.growth import GrowthLaw, time_to_failure
from glasskit.quantities import (
    FloatArray,
    non_negative,
    of_type,
    positive,
    require,
    within,
)


def sample_size(ratio: ArrayLike, level: float = 0.9) -> FloatArray:
    r"""Return how many specimens pin the modulus down to a wanted interval.

    .. math:: n = 2 + \frac{6}{\pi^2} \left(\frac{2 z}{\ln \rho}\right)^2

    Parameters
    ----------
    ratio : array_like
        Upper over lower end of the interval of the modulus :math:`\rho`, above 1 [-].
    level : float
        Confidence; :math:`z` is its normal deviate [-].

    Returns
    -------
    ndarray of float
        Whole number of specimens [-]; the shape of `ratio`.

    Raises
    ------
    ValueError
        If `ratio` is not above 1 or `level` does not lie between 0 and 1.

    Notes
    -----
    The large-sample variance of the logarithm of the modulus is ``6/(pi**2 n)``; the 2 is
    our own correction, right within one specimen in twenty from n = 5 on (tests). The interval
    of one set scatters: this is the typical width.

    References
    ----------
    Large-sample variance [Lawless1982]; the 2 is own method.

    Examples
    --------
    To know the modulus within a factor of 1.2 either way, nine times in ten:

    >>> sample_size(1.2**2).item()
    52.0

    """
    width = positive("ratio", ratio)
    require(width > 1, "ratio", width, "be above 1")
    within("level", level, 0, 1)
    deviate = ndtri((1 + level) / 2)
    return np.asarray(np.ceil(2 + 6 / np.pi**2 * (2 * deviate / np.log(width)) ** 2))


def lot_size(ratio: ArrayLike, modulus: ArrayLike) -> FloatArray:
    r"""Return how many breaks each of two lots needs to show a difference of their scales.

    .. math:: n = 2 + 2 \left[1 + \frac{6 (1 - \gamma)^2}{\pi^2}\right]
        \left(\frac{z_{0.975} + z_{0.8}}{m \ln \rho}\right)^2

    Parameters
    ----------
    ratio : array_like
        True ratio of the scales :math:`\rho`, other than 1: 1.1 for ten per cent [-].
    modulus : array_like
        Weibull modulus :math:`m` of both lots [-].

    Returns
    -------
    ndarray of float
        Whole number of breaks from one kind of flaw in each lot [-], with which four pairs of
        lots in five show it at 95 %; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If `ratio` or `modulus` is not positive, or `ratio` is 1.

    Notes
    -----
    The bracket is the large-sample variance of the logarithm of the scale, times the number
    of breaks and the modulus squared, :math:`\gamma` Euler's constant. The 2 is our own
    correction for small lots: of 500 simulated pairs of lots for a ratio of 1.1, 81, 84 and
    78 % showed it at moduli of 5, 10 and 20 (``tests/speed/coverage.py``). For
    moduli that differ take the one whose inverse square is the mean of theirs.

    References
    ----------
    Large-sample variance [Lawless1982]; the 2 is own method.

    Examples
    --------
    Ten per cent, in lots of modulus 5, 10 and 20:

    >>> lot_size(1.1, [5, 10, 20])
    array([79., 22.,  7.])

    """
    apart, shape = positive("ratio", ratio), positive("modulus", modulus)
    require(apart != 1, "ratio", apart, "differ from 1")
    deviate = ndtri(0.975) + ndtri(0.8)
    spread = 1 + 6 * (1 - np.euler_gamma) ** 2 / np.pi**2
    return np.asarray(np.ceil(2 + 2 * spread * (deviate / (shape * np.log(apart))) ** 2))


def zero_failure_size(chance: ArrayLike, confidence: ArrayLike = 0.95) -> FloatArray:
    r"""Return how many must survive, and none break, to prove a chance of breaking small.

    .. math:: n = \frac{\ln(1 - C)}{\ln(1 - p)}

    Parameters
    ----------
    chance : array_like
        Chance of breaking :math:`p` that is to be ruled out [-].
    confidence : array_like
        Confidence :math:`C` [-].

    Returns
    -------
    ndarray of float
        Whole number of specimens [-]; the inputs' broadcast shape.

    Raises
    ------
    ValueError
        If either does not lie between 0 and 1.

    Notes
    -----
    Independent specimens of one kind, none of them left out afterwards.

    References
    ----------
    Definition: the binomial distribution.

    Examples
    --------
    Fewer than one in ten break, with 95 % confidence:

    >>> zero_failure_size(0.1).item()
    29.0

    """
    risk, sure = within("chance", chance, 0, 1), within("confidence", confidence, 0, 1)
    return np.asarray(np.ceil(np.log1p(-sure) / np.log1p(-risk) - 1e-9))


def proof_survival(
    stress: ArrayLike, proof_stress: ArrayLike, modulus: ArrayLike, scale: ArrayLike
) -> FloatArray:
    r"""Return the chance that a specimen that passed a proof test bears a stress.

    .. math:: S(\sigma) = \exp\left[(\sigma_p/\sigma_0)^m - (\sigma/\sigma_0)^m\right],
        \quad \sigma > \sigma_p

    Parameters
    ----------
    stress : array_like
        Stress after the test [Pa].
    proof_stress : array_like
        Stress of the test; zero for none [Pa].
    modulus, scale : array_like
        Of the untested specimens [-], [Pa].

    Returns
    -------
    ndarray of float
        Chance [-]; the inputs' broadcast shape. One up to the proof stress.

    Raises
    ------
    ValueError
        If a stress is negative, or `modulus` or `scale` not positive.

    Notes
    -----
    The proof must act where service will, unload fast and do no damage of its own: a crack
    that creeps while the load comes off leaves less than was proved.

    References
    ----------
    [Evans1974]

    Examples
    --------
    >>> proof_survival(60e6, [0.0, 50e6], 7.0, 80e6).round(3)
    array([0.875, 0.908])

    """
    power, size = positive("modulus", modulus), positive("scale", scale, "Pa")
    load = non_negative("stress", stress, "Pa") / size
    proved = non_negative("proof_stress", proof_stress, "Pa") / size
    return np.asarray(np.exp(np.minimum(proved**power - load**power, 0.0)))


@dataclass(frozen=True, slots=True, kw_only=True)
class ProofPlan:
    """What a proof test costs, and what it promises.

    Attributes
    ----------
    stress, proof_stress : float
        In service, and in the test [Pa].
    modulus, scale : float
        Of the untested specimens [-], [Pa].
    lost : float
        Share that breaks in the test [-].
    before, after : float
        Chance of breaking at `stress`: of an untested specimen, and of one that passed [-].
    life : float
        Shortest life under a steady `stress` after a test that did no damage [s]; infinite
        where the worst flaw left stands still.

    """

    stress: float
    proof_stress: float
    modulus: float
    scale: float
    lost: float
    before: float
    after: float
    life: float


def proof_plan(
    stress: float, proof_stress: float, modulus: float, scale: float, law: GrowthLaw
) -> ProofPlan:
    """Plan a proof test: what breaks in it, and what those that pass can bear, and how long.

    Parameters
    ----------
    stress : float
        Steady stress in service [Pa].
    proof_stress : float
        Stress of the test [Pa].
    modulus, scale : float
        Of the untested specimens [-], [Pa].
    law : GrowthLaw
        How fast flaws creep in service.

    Returns
    -------
    ProofPlan
        Loss, chances and shortest life.

    Raises
    ------
    TypeError
        If `law` is none.
    ValueError
        If a number is not positive.

    Notes
    -----
    Plain glass. The worst flaw left is the one that the test would just have broken, long and
    shallow. The test must load where service will, and come off quickly: what creeps
    meanwhile is promised in vain.

    References
    ----------
    [Evans1974], [Haldimann2006]

    Examples
    --------
    Proved at 45 MPa for 15 MPa in service, in half-humid air; the life in days:

    >>> from glasskit.crack.growth import ENVIRONMENTS
    >>> plan = proof_plan(15e6, 45e6, 7.0, 80e6, ENVIRONMENTS["half humid"])
    >>> round(plan.lost, 3), plan.after, round(plan.life / 86400, 1)
    (0.018, 0.0, 17.7)

    """
    of_type("law", law, GrowthLaw)
    load = positive("stress", stress, "Pa").item()
    proof = positive("proof_stress", proof_stress, "Pa").item()
    kept, untested, passed = (
        proof_survival(*pair, modulus, scale).item()
        for pair in ((proof, 0.0), (load, 0.0), (load, proof))
    )
    depth = griffith_depth(proof, law.toughness)
    return ProofPlan(
        stress=load,
        proof_stress=proof,
        modulus=float(modulus),
        scale=float(scale),
        lost=1 - kept,
        before=1 - untested,
        after=1 - passed,
        life=time_to_failure(load, depth, law).item(),
    )
