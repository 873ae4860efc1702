# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from scipy.special import stdtrit

from glasskit.lab import gauge, known_piece, parse_gauge


def drawn(rng, hands=3, pieces=10, repeats=2):
    """Return readings with known scatter: 1 in one hand, 2 between hands, 5 of pieces."""
    return (
        5 * rng.standard_normal((1, pieces, 1))
        + 2 * rng.standard_normal((hands, 1, 1))
        + rng.standard_normal((hands, pieces, repeats))
    )


def test_the_parts_are_those_that_were_drawn(outside):
    rng = np.random.default_rng(4)
    found = [gauge(drawn(rng, hands=8)) for _ in range(300)]
    source, status = "300 studies drawn with 1, 2 and 5", "independent method"
    for name, true, rel in (("repeatability", 1, 0.02), ("reproducibility", 2, 0.05)):
        mean = np.sqrt(np.mean([getattr(one, name) ** 2 for one in found]))
        outside(name, mean, true, rel=rel, source=source, status=status)
    pieces = np.sqrt(np.mean([one.pieces**2 for one in found]))
    outside("pieces", pieces, 5, rel=0.05, source=source, status=status)


# fmt: off
THREE_HANDS = np.array([  # hand, repeat, piece
    [[0.29, -0.56, 1.34, 0.47, -0.80, 0.02, 0.59, -0.31, 2.26, -1.36],
     [0.41, -0.68, 1.17, 0.50, -0.92, -0.11, 0.75, -0.20, 1.99, -1.25],
     [0.64, -0.58, 1.27, 0.64, -0.84, -0.21, 0.66, -0.17, 2.01, -1.31]],
    [[0.08, -0.47, 1.19, 0.01, -0.56, -0.20, 0.47, -0.63, 1.80, -1.68],
     [0.25, -1.22, 0.94, 1.03, -1.20, 0.22, 0.55, 0.08, 2.12, -1.62],
     [0.07, -0.68, 1.34, 0.20, -1.28, 0.06, 0.83, -0.34, 2.19, -1.50]],
    [[0.04, -1.38, 0.88, 0.14, -1.46, -0.29, 0.02, -0.46, 1.77, -1.49],
     [-0.11, -1.13, 1.09, 0.20, -1.07, -0.67, 0.01, -0.56, 1.45, -1.77],
     [-0.15, -0.96, 0.67, 0.11, -1.45, -0.49, 0.21, -0.49, 1.87, -2.16]],
])
# fmt: on


def test_three_hands_and_ten_pieces_of_a_manual(outside):
    # Source: Measurement systems analysis, manual, 4th edition, with the sums that McNeese
    # 2015 prints, both as a public program quotes them: mean squares 9.818 of the pieces,
    # 1.584 of the hands, 0.0199 of both, 0.0460 of the repeats. It pools the last two where
    # a hand reads all pieces alike and gets 0.0400, 0.0515 and 1.086; we pool nothing.
    found = gauge(np.moveaxis(THREE_HANDS, 1, 2))
    source, status = "manual of measurement systems, 4th edition, as quoted by others", "found"
    for name, got, expected, allowed in (
        ("repeatability²", found.repeatability**2, 0.0460, 5e-5),
        ("reproducibility²", found.reproducibility**2, (1.584 - 0.0199) / 30, 1e-4),
        ("pieces²", found.pieces**2, (9.818 - 0.0199) / 9, 1e-3),
    ):
        outside(
            f"three hands: {name}", got, expected, abs_=allowed, source=source, status=status
        )
    assert found.reproducibility**2 == pytest.approx(0.0515, rel=0.02)  # pooled
    assert found.pieces**2 == pytest.approx(1.086, rel=0.005)


def test_repeatability_is_the_pooled_scatter_of_the_cells(outside):
    values = drawn(np.random.default_rng(1), repeats=3)
    outside(
        "repeatability",
        gauge(values).repeatability,
        np.sqrt(values.var(2, ddof=1).mean()),
        rel=1e-12,
        source="numpy, mean variance of the cells",
        status="independent method",
    )


def test_a_reading_for_the_budget_is_surer_with_repeats_and_keeps_the_hand():
    found = gauge(drawn(np.random.default_rng(2)))
    one, many = found.input(4.0), found.input(4.0, repeats=1000)
    assert one.uncertainty == pytest.approx(found.combined)
    assert many.uncertainty == pytest.approx(found.reproducibility, rel=1e-2)
    assert one.degrees < 12  # three hands


def test_a_line_without_a_number_is_set_aside_and_said():
    lines = ["who; piece; size [mm]"]
    lines += [f"{w}; {p}; {p}" for w in "AB" for p in (1, 2) for _ in (1, 2)]
    found = parse_gauge("\n".join([*lines, "A; 1; x"]))
    assert found.troubles[0].line == 10
    assert found.names == ("1", "2")
    assert found.repeatability == 0


def test_what_cannot_be_parted_is_refused():
    with pytest.raises(ValueError, match="two hands, two pieces and two repeats"):
        gauge([[[1.0], [2.0]], [[1.0], [2.0]]])
    with pytest.raises(ValueError, match="header must name hand, piece and reading"):
        parse_gauge("who; size [mm]\nA; 1")


def test_a_known_piece_by_hand_and_how_often_a_true_gauge_is_believed(outside):
    readings = [10.02, 10.02, 10.03, 10.02]
    found = known_piece(np.array(readings) * 1e-3, 10e-3, 0.5e-6, 0.01e-3)
    own, step = np.std(readings, ddof=1) / 2, 0.005 / np.sqrt(3)
    total = np.sqrt(own**2 + step**2 + 0.0005**2)
    freedom = total**4 / (own**4 / 3)
    outside(
        "half interval of a calliper's difference / mm",
        found.expanded * 1e3,
        stdtrit(freedom, 0.975) * total,
        source="sum of squares, Welch and Satterthwaite, Student's 97.5 % point",
        status="hand calculation",
        rel=1e-4,
    )
    assert not found.agrees
    rng, held = np.random.default_rng(6), 0
    for _ in range(2000):
        held += known_piece(10 + 0.01 * rng.standard_normal(5), 10.0).agrees
    assert 0.935 <= held / 2000 <= 0.965
    with pytest.raises(ValueError, match=r"^readings must hold two or more"):
        known_piece([1.0], 1.0)
    with pytest.raises(ValueError, match=r"^uncertainty must be"):
        known_piece([1.0, 1.1], 1.0, -1.0)
