# SPDX-License-Identifier: MIT
"""From flaws to strength and back, for plain and for toughened glass, with its scatter.

`population` holds the worst flaws of panes, `weibull` fits strengths (with `ranks` and
`confidence`; `masked` where origins are not known), `area` tells how size counts, `sizes` how
many specimens are enough and what a proof test promises.
"""

from glasskit.strength.area import (
    bending_area,
    patch_area,
    ring_area,
    size_factor,
)
from glasskit.strength.confidence import Confidence
from glasskit.strength.masked import fit_masked
from glasskit.strength.population import FlawPopulation, lasting_toughness, pane_strength
from glasskit.strength.ranks import POSITIONS, fit_line, paper_height, plotting_positions
from glasskit.strength.ratios import modulus_ratio, scale_ratio
from glasskit.strength.sizes import (
    ProofPlan,
    lot_size,
    modulus_spread,
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
    "lasting_toughness",
    "lot_size",
    "modulus_ratio",
    "modulus_spread",
    "pane_strength",
    "paper_height",
    "patch_area",
    "plotting_positions",
    "proof_plan",
    "proof_survival",
    "ring_area",
    "sample_size",
    "scale_ratio",
    "size_factor",
    "unbiasing_factor",
    "zero_failure_size",
]
