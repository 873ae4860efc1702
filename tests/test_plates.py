# SPDX-License-Identifier: MIT
import numpy as np
import pytest

from glasskit import plates
from glasskit.quantities import OutsideValidityWarning
from glasskit.tables import STATUSES, read

NAMES = sorted({row["plate"] for row in read("plates")})


@pytest.mark.parametrize("name", NAMES)
def test_a_plate_has_the_stress_that_its_rows_say(name):
    plate = plates.plate(name)
    profile = plate.profile
    assert profile.thickness == plate["thickness"]
    squeeze = plate["squeeze"] if "squeeze" in plate.values else 0.0
    assert profile.surface == pytest.approx(-squeeze, rel=1e-12, abs=1e-3)
    # Tolerance: rounding of a sum of stresses over the thickness.
    assert abs(profile.net_force()) <= 1e-9 * max(squeeze, 1.0) * plate["thickness"]
    assert plate.hardness > 1e9
    if "skin" in plate.values:
        assert profile.case_depth == pytest.approx(plate["skin"], rel=0.6)


def test_another_squeeze_changes_nothing_else():
    usual = plates.plate("cover glass, salt bath")
    half = usual.squeezed(usual["squeeze"] / 2)
    assert half.centre == pytest.approx(usual.profile.centre / 2)
    assert usual.squeezed(0.0).kind == "annealed"
    assert usual.squeezed(usual["squeeze"], 2 * usual["skin"]).centre > usual.profile.centre
    with pytest.raises(ValueError, match=r"^squeeze must be finite and zero or more"):
        usual.squeezed(-1.0)


def test_more_than_a_quench_leaves_is_doubted():
    with pytest.warns(OutsideValidityWarning, match="leaves at most about 250 MPa$"):
        hard = plates.plate("window pane, quenched").squeezed(300e6)
    assert hard.surface == pytest.approx(-300e6)


def test_a_hard_edge_does_not_give():
    assert np.isinf(plates.support("hard edge").bedding)


@pytest.mark.parametrize("table", ["plates", "supports", "strikers"])
def test_every_number_says_where_it_comes_from(table):
    for row in read(table):
        assert row["source"], row
        assert row["status"] in STATUSES, row


@pytest.mark.parametrize("get", [plates.plate, plates.support, plates.striker])
def test_what_is_not_on_the_shelf_is_refused_with_what_is(get):
    with pytest.raises(ValueError, match=r"^\w+ must be one of .+; got 'jelly'$"):
        get("jelly")


def test_a_plain_plate_has_no_squeeze():
    with pytest.raises(
        ValueError, match=r"^property must be one of thickness; got 'squeeze'$"
    ):
        _ = plates.plate("shelf, plain")["squeeze"]
