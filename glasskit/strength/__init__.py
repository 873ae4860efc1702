# SPDX-License-Identifier: MIT
"""From flaws to strength and back, for plain and for toughened glass, with its scatter.

`population` holds the worst flaws of panes, `weibull` fits strengths (with `ranks` and
`confidence`; `masked` where origins are not known), `area` tells how size counts, `sizes` how
many specimens are enough and what a proof test promises.
"""

from glasskit.strength.area import bending_area
from glasskit.strength.confidence import Confidence
from glasskit.strength.masked import fit_masked
from glasskit.strength.population import FlawPopulation
from glasskit.strength.ranks import POSITIONS, fit_line, paper_height, plotting_positions
from glasskit.strength.ratios import modulus_ratio, scale_ratio
from glasskit.strength.sizes import (
    ProofPlan,
    lot_size,
    proof_plan,
    proof_survival,
    sample_size,
    zero_failure_size,
)
from glasskit.strength.weibull import WeibullFit, fit_weibull, unbiasing_factor

__all__ = [
    "POSITIONS",
    "Confidence",
    "FlawPopulation",
    "ProofPlan",
    "WeibullFit",
    "bending_area",
    "fit_line",
    "fit_masked",
    "fit_weibull",
    "lot_size",
    "modulus_ratio",
    "paper_height",
    "plotting_positions",
    "proof_plan",
    "proof_survival",
    "sample_size",
    "scale_ratio",
    "unbiasing_factor",
    "zero_failure_size",
]
