# SPDX-License-Identifier: MIT
import datetime

import numpy as np
import pytest

from glasskit.draw.lab import LotsScene, PaperScene
from glasskit.draw.look import Look
from glasskit.draw.picture import SCREEN, layout_faults, still
from glasskit.lab import compare, parse_records, reduce_series
from glasskit.sheets.lab import PAIR, comparison_report
from glasskit.strength import fit_weibull, modulus_ratio, scale_ratio
from glasskit.training import invented
from glasskit.words.lab import comparison_doubts, comparison_sentence, comparison_verdict

DAY = datetime.date(2030, 1, 2)
HEAD = "specimen,lot,method,origin,force [N],span [mm],width [mm],thickness [mm]\n"
STRENGTH = np.random.default_rng(8).weibull(9, 20)


def lines(lot, factor=1.0, thickness=4, origins=("edge",)):
    return [
        f"{lot}{at},{lot},three_point_bar,{origins[at % len(origins)]},"
        f"{200 * factor * one:.6f},100,20,{thickness}"
        for at, one in enumerate(STRENGTH)
    ]


def reduced(*rows):
    return reduce_series(parse_records(HEAD + "\n".join(rows)), "three_point_bar")


@pytest.fixture(scope="module")
def invented_lots():
    texts = invented.two_lots(np.random.default_rng(invented.SEED))
    lots = (reduce_series(parse_records(text), "four_point_bar") for text in texts.values())
    return compare(*lots, names=tuple(texts))


def test_a_known_factor_comes_back_and_the_same_lot_shows_no_difference():
    found = compare(reduced(*lines("A")), reduced(*lines("B", 1.3)))
    edge = found.ratios["edge"]
    assert edge.scale == pytest.approx(1.3, rel=1e-6)
    assert edge.modulus == pytest.approx(1.0, rel=1e-5)
    assert edge.shown
    # Source: hand calculation, 2 + 2 * 1.1087 * (2.8016/(m ln 1.1))^2 with the fitted m.
    modulus = edge.first.modulus.item()
    assert edge.needed == np.ceil(2 + 2 * 1.1087 * (2.8016 / (modulus * np.log(1.1))) ** 2)
    low, high = edge.scale_interval
    assert low < 1.3 < high
    same = compare(reduced(*lines("A")), reduced(*lines("B")))
    assert not same.ratios["edge"].shown
    assert comparison_verdict(same) == "No difference is shown; one may be there"
    assert "none ruled out" in comparison_sentence(same)


def test_the_looser_of_two_lots_asks_for_more_specimens():
    spread = reduced(*(line.replace("B", "C") for line in lines("B")))
    wide = [
        f"W{at},W,three_point_bar,edge,{200 * one**3:.6f},100,20,4"
        for at, one in enumerate(STRENGTH)
    ]
    edge = compare(spread, reduced(*wide)).ratios["edge"]
    alike = compare(reduced(*lines("A")), spread).ratios["edge"].needed
    # Source: hand calculation; a third of the modulus has nine times the variance, and half
    # the sum of 1 and 9 is 5 times that of the tight lots, beside the two of small lots.
    assert edge.modulus == pytest.approx(1 / 3, rel=1e-4)
    assert edge.needed - 2 == pytest.approx(5 * (alike - 2), abs=5)


def test_origins_are_compared_with_their_like_only():
    found = compare(reduced(*lines("A", origins=("edge", "face"))), reduced(*lines("B")))
    assert list(found.ratios) == ["edge"]
    assert found.alone == ("surface",)
    first, second = found.first.fits["edge"], found.second.fits["edge"]
    assert np.array_equal(found.ratios["edge"].scale_interval, scale_ratio(first, second))
    assert any("Surface: fitted in one lot only" in one for one in comparison_doubts(found))
    none = compare(reduced(*lines("A", origins=("face",))), reduced(*lines("B")))
    assert not none.ratios
    assert comparison_sentence(none).startswith("Nothing to compare")
    assert layout_faults(still(LotsScene(), none, Look(), SCREEN)) == []
    assert "<img" not in comparison_report(none, on=DAY)


def test_unknown_origins_leave_bounds_and_a_difference_counts_if_both_show_it():
    known, some = reduced(*lines("A")), ("edge", "edge", "edge", "?")
    found = compare(known, reduced(*lines("B", 1.07, origins=some)))
    assert list(found.ratios) == [
        "edge, unknown counted in",
        "edge, unknown left out",
    ]
    assert found.alone == ()
    counted, left = found.ratios.values()
    assert counted.scale == pytest.approx(1.07, rel=1e-6)
    assert left.scale > counted.scale
    assert any("the truth lies between" in one for one in comparison_doubts(found))
    assert [ratio.shown for ratio in found.ratios.values()] == [False, True]
    assert comparison_verdict(found) == "No difference is shown; one may be there"
    far = compare(known, reduced(*lines("B", 1.5, origins=some)))
    assert comparison_verdict(far).startswith("The two lots differ")
    assert layout_faults(still(LotsScene(), far, Look(large=True), SCREEN)) == []


def test_lots_of_other_sizes_are_named_as_unlike():
    found = compare(reduced(*lines("A")), reduced(*lines("B", 0.6, thickness=3)))
    assert found.unlike == {"thickness": (pytest.approx(4e-3), pytest.approx(3e-3))}
    assert "Thickness differs: 4.00 mm and 3.00 mm" in comparison_doubts(found)[0]


def test_one_file_is_parted_by_a_column_and_each_part_has_its_own_troubles():
    bad = ["A99,A,three_point_bar,edge,?,100,20,4", "lost,three_point_bar"]
    series = parse_records(HEAD + "\n".join([*lines("A"), *bad, *lines("B", 1.3)]))
    lots = series.parted("lot")
    assert [len(lot.records) for lot in lots.values()] == [20, 20]
    assert [len(lot.troubles) for lot in lots.values()] == [2, 1]
    found = compare(*(reduce_series(lot, "three_point_bar") for lot in lots.values()))
    assert found.ratios["edge"].scale == pytest.approx(1.3, rel=1e-6)
    with pytest.raises(ValueError, match="column must be one of"):
        series.parted("batch")


def test_intervals_of_a_ratio_of_moduli_hold_as_often_as_they_say():
    rng = np.random.default_rng(12)
    held = 0
    for _ in range(200):
        low, high = modulus_ratio(
            fit_weibull(rng.weibull(6.0, 10)), fit_weibull(rng.weibull(9.0, 10))
        )
        held += low < 1.5 < high
    # Three standard deviations of 200 draws; 2,000 sets and the scales: tests/speed/coverage.
    assert 0.95 - 0.046 < held / 200 < 0.95 + 0.046


@pytest.mark.parametrize(
    "look", [Look(), Look(large=True), Look(system="us"), Look(mono=True)]
)
def test_the_picture_has_no_layout_faults(invented_lots, look):
    assert layout_faults(still(LotsScene(), invented_lots, look, SCREEN)) == []
    if look.mono:
        assert layout_faults(still(LotsScene(), invented_lots, look, PAIR)) == []


def test_the_report_holds_ratios_and_each_lot_with_its_own_troubles(invented_lots):
    html = comparison_report(invented_lots, {"tester": "<b>Ada</b>"}, on=DAY)
    first, second = html.split("<h2>seamed</h2>")
    assert "Line 9 set aside" in second
    assert "set aside:" not in first
    assert "&lt;b&gt;Ada" in first
    assert invented_lots.first.checksum in first
    assert invented_lots.second.checksum in second
    low, high = invented_lots.ratios["edge"].scale_interval
    assert f"({low:.2f} to {high:.2f})" in first
    assert low < 72 / 60 < high


def test_a_specimen_set_aside_by_its_origin_does_not_spoil_the_picture():
    rows = [
        f"R{at},ring_on_ring,{'rim' if at in (3, 8) else 'face'},{2000 * one:.1f},18,45,55,3"
        for at, one in enumerate(STRENGTH)
    ]
    head = (
        "specimen,method,origin,force [N],load_diameter [mm],support_diameter [mm],"
        "plate_diameter [mm],thickness [mm]\n"
    )
    found = reduce_series(parse_records(head + "\n".join(rows)), "ring_on_ring")
    (ax,) = still(PaperScene(), found, Look(), SCREEN).axes
    [points] = [line for line in ax.lines if line.get_marker() == "o"]
    assert len(points.get_xdata()) == 18


def test_refusals():
    first = reduced(*lines("A"))
    with pytest.raises(ValueError, match="second must hold broken specimens other than"):
        compare(first, first)
    with pytest.raises(TypeError, match="second must be an Outcome"):
        compare(first, None)
    text = "specimen,method,load [kgf],diagonal [um]\n1,vickers,1,58\n2,vickers,1,59"
    dents = reduce_series(parse_records(text), "vickers")
    with pytest.raises(ValueError, match="second must be of three_point_bar too; got vickers"):
        compare(first, dents)
    with pytest.raises(ValueError, match="second must hold broken"):
        compare(dents, dents)
