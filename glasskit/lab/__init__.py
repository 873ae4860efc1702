# SPDX-License-Identifier: MIT
"""Take raw readings to a defensible number: what a glass laboratory reduces, in one place.

`methods` tells what a method is, `bend_tests` and `mark_tests` list them over `formulas`;
`reducing` turns readings into a result with `budgets`; `records` with `origins`, `series`,
`grades`, `mirrors`, `trends`, `fatigue` and `staircase` take whole series; `comparing` sets
two lots side by side, `charts` watches one over months; `columns` reads what is told by its
units, `curves` takes a load over time to its peak and rate, `gauges` asks what a gauge adds;
`plans` draws the order of a series,
`balancing` sums a stress profile,
`loads` follows hardness over the load, `expansion` a dilatometer's curve.
"""

from glasskit.lab.balancing import ProfileBalance, profile_balance
from glasskit.lab.bend_tests import BENCHES
from glasskit.lab.budgets import (
    Budget,
    Input,
    Simulation,
    budget,
    from_readings,
    from_tolerance,
    simulate,
)
from glasskit.lab.charts import RUN, ControlChart, control_chart
from glasskit.lab.columns import Columns, parse_columns
from glasskit.lab.comparing import DIFFERENCE, Comparison, Ratio, compare
from glasskit.lab.curves import RATES, CurveResult, LoadCurve, load_curve, reduce_curve
from glasskit.lab.expansion import Dilatometry, Tangent, dilatometry
from glasskit.lab.fatigue import Fatigue, Lasting, fatigue
from glasskit.lab.formulas import (
    analyser_stress,
    ball_on_ring,
    buoyancy_density,
    crack_compression,
    dent_toughness,
    guided_compression,
    knoop_hardness,
    mean_expansion,
    polarimeter_stress,
    vickers_hardness,
    vickers_number,
    water_density,
)
from glasskit.lab.gauges import Gauge, KnownPiece, gauge, known_piece, parse_gauge
from glasskit.lab.grades import CLASSES, Grade, LotGrade, class_odds, class_of, grade_lot
from glasskit.lab.loads import DentSeries, LoadGroup, dent_series, parse_dents
from glasskit.lab.mark_tests import MARKS
from glasskit.lab.methods import Method
from glasskit.lab.mirrors import MirrorFit, MirrorSet, likely_mirrors, mirror_line, mirror_set
from glasskit.lab.origins import (
    UNBROKEN,
    UNKNOWN,
    Agreement,
    Review,
    agreement,
    folded,
    look_alikes,
    parse_review,
)
from glasskit.lab.plans import SeriesPlan, plan_series
from glasskit.lab.records import Record, Series, parse_records, read_records, records_from
from glasskit.lab.reducing import METHODS, BrokenLimit, Reduction, exact, reduce
from glasskit.lab.series import FEWEST, Outcome, Tolerance, reduce_series
from glasskit.lab.staircase import (
    DropSeries,
    UpAndDown,
    count_drops,
    dixon_mood,
    probit,
    simulate_series,
    up_and_down,
)
from glasskit.lab.trends import PowerLine, Trend, power_line, trend

__all__ = [
    "BENCHES",
    "CLASSES",
    "DIFFERENCE",
    "FEWEST",
    "MARKS",
    "METHODS",
    "RATES",
    "RUN",
    "UNBROKEN",
    "UNKNOWN",
    "Agreement",
    "BrokenLimit",
    "Budget",
    "Columns",
    "Comparison",
    "ControlChart",
    "CurveResult",
    "DentSeries",
    "Dilatometry",
    "DropSeries",
    "Fatigue",
    "Gauge",
    "Grade",
    "Input",
    "KnownPiece",
    "Lasting",
    "LoadCurve",
    "LoadGroup",
    "LotGrade",
    "Method",
    "MirrorFit",
    "MirrorSet",
    "Outcome",
    "PowerLine",
    "ProfileBalance",
    "Ratio",
    "Record",
    "Reduction",
    "Review",
    "Series",
    "SeriesPlan",
    "Simulation",
    "Tangent",
    "Tolerance",
    "Trend",
    "UpAndDown",
    "agreement",
    "analyser_stress",
    "ball_on_ring",
    "budget",
    "buoyancy_density",
    "class_odds",
    "class_of",
    "compare",
    "control_chart",
    "count_drops",
    "crack_compression",
    "dent_series",
    "dent_toughness",
    "dilatometry",
    "dixon_mood",
    "exact",
    "fatigue",
    "folded",
    "from_readings",
    "from_tolerance",
    "gauge",
    "grade_lot",
    "guided_compression",
    "knoop_hardness",
    "known_piece",
    "likely_mirrors",
    "load_curve",
    "look_alikes",
    "mean_expansion",
    "mirror_line",
    "mirror_set",
    "parse_columns",
    "parse_dents",
    "parse_gauge",
    "parse_records",
    "parse_review",
    "plan_series",
    "polarimeter_stress",
    "power_line",
    "probit",
    "profile_balance",
    "read_records",
    "records_from",
    "reduce",
    "reduce_curve",
    "reduce_series",
    "simulate",
    "simulate_series",
    "trend",
    "up_and_down",
    "vickers_hardness",
    "vickers_number",
    "water_density",
]
