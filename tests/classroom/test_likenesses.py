# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from glasskit.classroom import (
    BallTray,
    BookRow,
    CurledCard,
    NotchedStrip,
    brittle_stick,
    chocolate_bar,
    likenesses,
)
from glasskit.classroom.likenesses import between, texts
from glasskit.words.likenesses import handson_numbers, span

ROW = BookRow(count=8, mass=0.5, length=0.24, height=0.20, friction=between(0.2, 0.4))
STRIP = NotchedStrip(width=0.03, force=90.0, own_flaw=between(1e-3, 4e-3))
TRAY = BallTray(count=20, small=16e-3, large=20e-3, stiffness=between(150, 250))
CARD = CurledCard(
    length=0.15, width=0.1, thickness=0.3e-3, modulus=between(2e9, 5e9), pull=2.0
)
LIKENESSES = [
    ROW,
    STRIP,
    TRAY,
    CARD,
    brittle_stick(1.8e-3, 0.1),
    chocolate_bar(0.03, 8e-3, 0.08),
]


# --- row of books ---------------------------------------------------------------------------


def least_push(weight, length, height, load=0.0, straight=False):
    """Return the least push with which the middle joint bears the moment of bending.

    Pressures in the joint can only push, and must balance the moment about the line of the
    hands: a linear programme, no beam formula. Books that stay flat allow only pressures on a
    `straight` line, a triangle standing on either edge or a mixture.
    """
    # Middles of 2000 strips: the outermost lies half a strip inside the edge, 0.05 % of half
    # the height.
    strips = ((np.arange(2000) + 0.5) / 2000 - 0.5) * height
    moment = weight * length / 8 + load * length / 4
    if straight:
        up = strips - strips[0]
        arms = [np.average(strips, weights=weights) for weights in (up, up[::-1])]
    else:
        arms = strips
    return linprog(np.ones(len(arms)), A_eq=[arms], b_eq=[moment]).fun


def test_the_row_of_eight_books(outside):
    # Hand calculation: W = 8 x 0.5 x 9.80665 = 39.2266 N; W/(2 x 0.2) = 98.07, W/(2 x 0.4) =
    #   49.03; W L/8 = 1.176798 N m, times 6/0.2 m = 35.30 and times 2/0.2 m = 11.77.
    for name, got, expected in (
        ("push against slip, slippery covers", ROW.slip.high, 98.07),
        ("push against slip, rough covers", ROW.slip.low, 49.03),
        ("push against opening", ROW.opening, 35.30),
        ("push against folding", ROW.folding, 11.77),
    ):
        outside(
            f"{name}, N",
            got,
            expected,
            abs_=6e-3,
            source="W/(2 mu), 6 W L/(8 h), W L/(4 h)",
            status="hand calculation",
        )


def test_opening_and_folding_are_the_least_pushes_of_joints_that_cannot_pull(outside):
    size = (ROW.weight.item(), ROW.length, ROW.height)
    source = "linear programme over pressures in the middle joint"
    for name, got, expected in (
        ("push against folding, N", ROW.folding, least_push(*size)),
        ("push against opening, N", ROW.opening, least_push(*size, straight=True)),
    ):
        outside(name, got, expected, rel=1e-3, source=source, status="independent method")


@given(push=st.floats(36, 500))
def test_the_load_that_opens_the_joint_grows_with_the_push(push):
    load = ROW.load_to_open(push)
    expected = least_push(ROW.weight.item(), ROW.length, ROW.height, load.item(), True)
    assert push == pytest.approx(expected, rel=1e-3)
    assert ROW.load_to_open(ROW.opening) == pytest.approx(0, abs=1e-9)
    assert ROW.load_to_open(1.0) == 0


# --- strips, sticks, bars -------------------------------------------------------------------


def test_a_strip_cut_deep_follows_the_square_root_and_a_whole_one_its_width():
    law = STRIP.crack_law([0.0, 4e-3, 16e-3])
    assert law.low[0] == law.high[0] == STRIP.force
    wide = NotchedStrip(width=10.0, force=90.0, own_flaw=between(1e-3, 4e-3))
    one, four = wide.crack_law([0.1, 0.4]).low
    assert one / four == pytest.approx(2, rel=0.02)  # own flaw of 1 mm beside 100
    assert (law.high <= STRIP.lost_width([0.0, 4e-3, 16e-3])).all()
    assert law.low[1] == pytest.approx(90 / np.sqrt(5))
    with pytest.raises(
        ValueError, match=r"^cut must be shorter than the strip is wide; got 0\.03 m"
    ):
        STRIP.lost_width(0.03)


def test_sticks_and_bars_break_at_the_loads_of_the_handbooks(outside):
    # Hand calculation: 20e6 pi (1.8e-3)^3/(8 x 0.1 x 9.80665) = 46.707 g; twice at 40 MPa.
    stick = brittle_stick(1.8e-3, 0.1).mass
    for name, got, expected in (("least", stick.low, 46.707), ("most", stick.high, 93.414)):
        outside(
            f"{name} mass that breaks a rod of 1.8 mm, g",
            got * 1e3,
            expected,
            abs_=2e-3,
            source="F = pi d^3 sigma/(8 L)",
            status="hand calculation",
        )
    glass = chocolate_bar(11e-3, 5.3e-3, 44e-3, between(64.08e6, 64.08e6)).mass
    outside(
        "load that breaks a glass bar of 64.08 MPa, N",
        glass.low * 9.80665,
        300.0,
        abs_=0.02,  # 64.08 is rounded
        source="worked exercise, 3 F L/(2 b d^2)",
        status="common practice",
    )


def test_a_doubtful_diameter_widens_the_range_with_its_cube():
    sure, doubtful = brittle_stick(2e-3, 0.1), brittle_stick(2e-3, 0.1, reading=0.1e-3)
    assert doubtful.mass.high / sure.mass.high == pytest.approx(1.05**3)
    assert doubtful.mass.low / sure.mass.low == pytest.approx(0.95**3)
    with pytest.raises(ValueError, match="reading must be below the diameter"):
        brittle_stick(2e-3, 0.1, reading=2e-3)


# --- balls and card -------------------------------------------------------------------------


def test_balls_are_counted_one_by_one(outside):
    row = [TRAY.large] * 10 + [TRAY.small] * 10
    outside(
        "growth of a row with half of 20 balls swapped, mm",
        TRAY.growth(0.5) * 1e3,
        (sum(row) - 20 * TRAY.small) * 1e3,
        rel=1e-9,
        source="the diameters laid end to end",
        status="independent method",
    )
    push = TRAY.push([0.0, 0.5])
    assert push.low[0] == push.high[0] == 0
    assert (push.low[1], push.high[1]) == pytest.approx((6.0, 10.0))  # 40 mm, 150 to 250 N/m
    with pytest.raises(ValueError, match="fraction must lie in 0 <= fraction <= 1; got 2"):
        TRAY.push(2)


def test_the_card_curls_as_a_film_curls_its_plate(outside):
    # Hand calculation: the pull acts half a thickness off the middle: moment 2 N x 0.15 mm =
    #   3e-4 N m; E I = 2e9 x 0.1 x (0.3e-3)^3/12 = 4.5e-4 N m^2; curvature 0.66667 1/m;
    #   rise 0.66667 x 0.15^2/8 = 1.875 mm.
    outside(
        "rise of a card curled by a band, mm",
        CARD.rise.high * 1e3,
        1.875,
        rel=1e-9,
        source="moment over E I, [Stoney1909]",
        status="hand calculation",
    )
    assert CARD.rise.low / CARD.rise.high == pytest.approx(2 / 5)
    assert CARD.squeeze_with_bands_on_both_faces == pytest.approx(4 / (0.1 * 0.3e-3))


# --- texts and words ------------------------------------------------------------------------


@pytest.mark.parametrize("likeness", LIKENESSES, ids=lambda likeness: likeness.name)
def test_every_likeness_says_what_to_buy_where_it_stops_and_what_can_hurt(likeness):
    told = texts(likeness.name)
    assert list(told) == list(likenesses.KINDS)
    assert all(told.values())
    for system in ("metric", "us"):
        numbers = handson_numbers(likeness, system)
        assert all(label and text for label, text in numbers)


@pytest.mark.parametrize(
    ("name", "word"),
    [
        ("row of books", "fall"),
        ("brittle sticks", "eye protection"),
        ("brittle sticks", "allergy"),
        ("chocolate bars", "Allergies"),
        ("chocolate bars", "Do not eat"),
        ("curled card", "eye protection"),
    ],
)
def test_the_cautions_that_matter_are_there(name, word):
    assert word in " ".join(texts(name)["caution"])


def test_numbers_in_words():
    said = dict(handson_numbers(brittle_stick(1.8e-3, 0.1), "metric"))
    assert said["hung from the middle, they break at"] == "47 g to 93 g"
    assert dict(handson_numbers(ROW, "metric"))["with less push than this it folds"] == "12 N"
    assert span(between(2.0, 2.0), "force", "metric") == "2.0 N"
    with pytest.raises(
        TypeError, match=r"^likeness must come from glasskit\.classroom\..*; got int"
    ):
        handson_numbers(3, "metric")


def test_refusals():
    with pytest.raises(ValueError, match="low must not exceed high; got 2"):
        between(2, 1)
    with pytest.raises(ValueError, match="name must be one of row of books, paper strips"):
        texts("jelly")
    with pytest.raises(
        ValueError, match="count must be a whole number, 2 <= count <= 1000; got 1"
    ):
        BookRow(count=1, mass=1, length=1, height=1, friction=between(0.2, 0.4))
