# SPDX-License-Identifier: MIT
import warnings

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from glasskit.light import colour
from glasskit.tables import read

TABLE = read("colour_matching")
WAVELENGTH = np.array([float(row["wavelength_nm"]) for row in TABLE])
MATCHING = np.array([[float(row[key]) for key in "xyz"] for row in TABLE])
DAYLIGHT = np.array([float(row["d65"]) for row in TABLE])


@pytest.fixture(scope="module")
def library():
    # On import it changes how numpy prints, which is put back here.
    with warnings.catch_warnings(), np.printoptions():
        warnings.simplefilter("ignore")
        return pytest.importorskip("colour")


def lobe(height, centre, below, above):
    rate = np.where(centre > WAVELENGTH, below, above)
    return height * np.exp(-0.5 * ((WAVELENGTH - centre) * rate) ** 2)


FITS = {
    "x": lobe(0.362, 442.0, 0.0624, 0.0374)
    + lobe(1.056, 599.8, 0.0264, 0.0323)
    + lobe(-0.065, 501.1, 0.0490, 0.0382),
    "y": lobe(0.821, 568.8, 0.0213, 0.0247) + lobe(0.286, 530.9, 0.0613, 0.0322),
    "z": lobe(1.217, 437.0, 0.0845, 0.0278) + lobe(0.681, 459.0, 0.0385, 0.0725),
}


@pytest.mark.parametrize("axis", [0, 1, 2], ids="xyz")
def test_table_of_the_observer_agrees_with_its_analytic_fit(outside, axis):
    # Tolerance: the fit is good to about 2 % of its peak.
    gap = np.abs(MATCHING[:, axis] - FITS["xyz"[axis]]).max() / MATCHING[:, axis].max()
    outside(
        f"largest gap of the {'xyz'[axis]} table to its analytic fit, over the peak",
        gap,
        0.0,
        abs_=0.03,
        source="[Wyman2013]: multi-lobe fit of the 1931 functions",
        status="found",
    )


def test_white_of_the_table_is_the_white_of_daylight(outside):
    white = DAYLIGHT @ MATCHING / (DAYLIGHT @ MATCHING[:, 1])
    for name, got, expected in (
        ("x", white[0] / white.sum(), 0.3127),
        ("y", white[1] / white.sum(), 0.3290),
    ):
        outside(
            f"chromaticity {name} of D65",
            got,
            expected,
            abs_=1e-4,
            source="CIE 15: D65 and the 2° observer, 0.3127 and 0.3290",
            status="memory",
        )


def test_white_on_the_screen_is_white(outside):
    white = colour.to_srgb(DAYLIGHT @ MATCHING / (DAYLIGHT @ MATCHING[:, 1]))
    for channel, got in zip(("red", "green", "blue"), white, strict=True):
        outside(
            f"{channel} of daylight on a screen",
            got,
            1.0,
            abs_=2e-3,
            source="IEC 61966-2-1: the white of sRGB is D65",
            status="memory",
        )


@pytest.mark.parametrize("retardation", [100e-9, 300e-9, 551e-9, 750e-9, 1100e-9, 2200e-9])
def test_tristimulus_values_agree_with_a_colour_library(outside, library, retardation):
    fine = np.arange(380, 781.0)
    share = np.sin(np.pi * retardation / (fine * 1e-9)) ** 2
    spectrum = library.SpectralDistribution(share, fine)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        expected = library.sd_to_XYZ(
            spectrum, illuminant=library.SDS_ILLUMINANTS["D65"], method="Integration"
        )
    for name, got, theirs in zip(
        "XYZ", colour.tristimulus(retardation), expected / 100, strict=True
    ):
        # Tolerance: our steps of 5 nm against steps of 1 nm.
        outside(
            f"{name} at {retardation * 1e9:g} nm of retardation",
            got,
            theirs,
            abs_=1e-3,
            source="colour-science 0.4, D65, 1931 observer, 1 nm",
            status="independent method",
        )


def test_screen_colours_agree_with_a_colour_library(library):
    values = np.random.default_rng(4).random((50, 3)) * [0.9, 1.0, 1.0]
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        theirs = np.clip(library.XYZ_to_sRGB(values), 0, 1)
    # Tolerance: the matrix is printed to four digits; near black the curve is steep.
    assert colour.to_srgb(values) == pytest.approx(theirs, abs=3e-3)


def test_order_of_colours_is_that_of_the_interference_chart():
    # Source: the chart of Michel-Lévy (memory): black, white near 250 nm, yellow near 430,
    # orange-red at 505, violet at 565 to 575, blue near 660, green near 750 to 830, yellow
    # near 910, orange-red at 998. The chart calls 530 to 550 nm red; in daylight, bluer than
    # the lamp of the chart, the turn to violet comes 20 nm sooner, so nothing is asked there.
    def hues(*nanometres):
        return colour.interference_colour(np.array(nanometres) * 1e-9).T

    red, green, blue = hues(0, 250, 430, 505, 570, 660, 800, 910, 998)
    assert red[0] == green[0] == blue[0] == 0
    assert min(red[1], green[1], blue[1]) > 0.9
    assert red[2] > green[2] > 2 * blue[2]
    assert red[3] > 1.5 * max(green[3], blue[3])
    assert blue[4] > red[4] > green[4]
    assert blue[5] > 1.2 * max(red[5], green[5])
    assert green[6] > 1.1 * max(red[6], blue[6])
    assert min(red[7], green[7]) > 2 * blue[7]
    assert red[8] > 1.3 * max(green[8], blue[8])


def test_high_orders_fade_to_white():
    rgb = colour.interference_colour(np.linspace(5.0e-6, 5.5e-6, 20))
    assert (
        np.ptp(rgb, axis=-1).mean()
        < np.ptp(colour.interference_colour(np.linspace(0.5e-6, 1.0e-6, 20)), axis=-1).mean()
        / 2
    )


@given(retardation=st.floats(-1e-5, 1e-5), angle=st.floats(-3, 3))
def test_colours_stay_on_the_screen(retardation, angle):
    rgb = colour.interference_colour(retardation, angle)
    assert rgb.shape == (3,)
    assert ((rgb >= 0) & (rgb <= 1)).all()


def test_shapes_broadcast():
    assert colour.interference_colour(np.zeros((4, 5))).shape == (4, 5, 3)
    assert colour.tristimulus([1e-7, 2e-7], 0.2).shape == (2, 3)


def test_bad_input_gets_one_clear_sentence():
    with pytest.raises(ValueError, match=r"^retardation must be finite; got inf m$"):
        colour.interference_colour(np.inf)
    rule = "tristimulus must have a last axis of three"
    with pytest.raises(ValueError, match=f"^{rule}; got 2$"):
        colour.to_srgb([0.1, 0.2])
    with pytest.raises(ValueError, match=f"^{rule}; got 0$"):
        colour.to_srgb(0.3)
