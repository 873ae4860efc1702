# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from pictures import LOOKS, MONO, faults

from glasskit.draw.floors import Floors, FloorScene
from glasskit.draw.picture import PAGE
from glasskit.impact import (
    ATTITUDES,
    FALLS,
    FLOORS,
    Device,
    attitude_odds,
    drop_on,
    land,
)
from glasskit.impact.device import inputs
from glasskit.live.floors import SKINS, floor_explorer
from glasskit.materials import glass
from glasskit.words.floors import drop_numbers, drop_sentence, inputs_table

BATH, DEEP, PLAIN = SKINS.values()


def drop(floor="concrete", height=2.4, fall="flat", screen=BATH, mass=0.2):
    device = Device(
        mass=mass, length=0.15, width=0.07, glass=glass("aluminosilicate"), screen=screen
    )
    return drop_on(device, floor, height, fall)


def on_every_floor(one):
    """Repeat the same drop on all floors, as the picture shows it."""
    drops = {name: drop_on(one.device, name, one.height, one.fall) for name in FLOORS}
    return Floors(chosen=one.floor, drops=drops)


STATES = {
    "concrete": drop(),
    "wood": drop("hardwood"),
    "tumbling, plain": drop("steel", 6.0, "tumble", PLAIN, 0.6),
    "edge, deep": drop("tile", 0.2, "edge", DEEP, 0.05),
    "corner": drop("concrete", 6.0, "corner", BATH, 0.6),
}


@pytest.mark.parametrize("fall", ATTITUDES)
def test_a_guided_drop_is_a_landing(fall):
    got = drop("tile", fall=fall)
    landing = land(got.device, "tile", 2.4, fall)
    assert got.pierced == pytest.approx(landing.pierced.item(), rel=1e-12)
    assert got.broken == pytest.approx(landing.broken.item(), rel=1e-12)


def test_a_tumble_weighs_its_landings_and_spares_the_other_faces():
    got = drop("tile", fall="tumble")
    odds = attitude_odds(0.1)
    parts = [odds[name] * land(got.device, "tile", 2.4, name).broken for name in ATTITUDES]
    assert got.broken == pytest.approx(sum(parts), rel=1e-12)
    assert got.breaking.max() <= sum(odds[name] for name in ATTITUDES)


def test_practice_is_met_wood_spares_and_concrete_endangers(outside):
    practice = {
        "source": "practice of guided drops, screen down; no source",
        "status": "order of magnitude",
    }
    for floor, height, share in (("hardwood", 2.4, 0.0), ("hardwood", 4.6, 0.0)):
        got = drop(floor, height).broken
        outside(f"broken on {floor} from {height} m", got, share, abs_=0.25, **practice)
    assert drop(height=4.6).broken > 0.2


def test_a_deeper_skin_is_pierced_less_and_none_more():
    shares = [drop(screen=screen).pierced for screen in (DEEP, BATH, PLAIN)]
    assert shares == sorted(shares)
    assert shares[0] < 0.8 * shares[2]


@pytest.mark.parametrize("state", STATES)
def test_the_band_holds_the_mean_and_cracks_are_in_order(state):
    got = STATES[state]
    for mean, share in ((got.pierced, got.piercing), (got.broken, got.breaking)):
        span = got.spread(share)
        assert 0 <= span.low <= mean <= span.high <= 1
    assert (np.sort(got.cracks()) == got.cracks()).all()
    assert (np.diff(got.loads()) >= 0).all()
    assert got.decisive() in got.landing.upper_half


def test_the_band_is_wide_where_much_is_not_known():
    span = STATES["concrete"].spread(STATES["concrete"].breaking)
    assert span.high - span.low > 0.1


def test_unknown_falls_and_floors_are_refused():
    with pytest.raises(ValueError, match=r"^fall must be one of flat, edge, corner, tumble"):
        drop(fall="spin")
    with pytest.raises(ValueError, match=r"^floor must be one of"):
        drop("sand")
    with pytest.raises(ValueError, match=r"^height must be finite and positive"):
        drop(height=0.0)


def test_the_sentence_sets_the_crack_beside_the_skin_and_does_not_promise():
    said = drop_sentence(STATES["concrete"])
    assert said.startswith("Landing flat on its screen on concrete from 2.40 m: in 100% of")
    assert "the skin is squeezed 40 µm deep" in said
    assert said.endswith("This explains; it does not predict.")
    assert "no squeezed skin" in drop_sentence(drop(screen=PLAIN))
    assert "hardly a grain reaches the glass" in drop_sentence(drop("hardwood", fall="corner"))
    assert "broke in less than 1 of 100 trials. " in drop_sentence(STATES["wood"])
    assert "mil" in drop_sentence(STATES["wood"], "us")


def test_every_input_is_listed_with_its_status():
    lines = inputs_table().splitlines()
    assert len(lines) == 2 + len(inputs())
    assert all("our judgement" in line or "from memory" in line for line in lines[2:])
    assert dict(drop_numbers(STATES["wood"]))["cases tried"] == "512"


@pytest.mark.parametrize("look", LOOKS, ids=str)
@pytest.mark.parametrize("state", STATES)
def test_no_text_of_the_drop_is_cut_off_or_overlaps(state, look):
    row = on_every_floor(STATES[state])
    assert faults(FloorScene(), row, look) == []


def test_the_drop_fits_a_page():
    row = on_every_floor(STATES["wood"])
    assert faults(FloorScene(), row, MONO, PAGE) == []


def test_every_floor_and_every_fall_can_be_chosen():
    explorer = floor_explorer()
    before = explorer.image.value
    for name, count in (("floor", len(FLOORS)), ("fall", len(FALLS)), ("screen", len(SKINS))):
        menu = explorer.controls[name].menu
        assert len(menu.options) == count
        for option in menu.options:
            menu.value = option
            assert explorer.said
    assert explorer.image.value != before


@pytest.mark.parametrize("end", ["low", "high"])
def test_every_slider_works_at_its_ends(end):
    explorer = floor_explorer()
    for control in explorer.controls.values():
        if hasattr(control, end):
            control.value = getattr(control, end)
    assert explorer.note.value == ""
