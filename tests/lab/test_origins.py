# SPDX-License-Identifier: MIT
import numpy as np
import pytest
from scipy.stats import binomtest

from glasskit.draw.lab import ReviewScene
from glasskit.draw.look import Look
from glasskit.draw.picture import SCREEN, layout_faults, still
from glasskit.lab import (
    Tolerance,
    agreement,
    folded,
    look_alikes,
    parse_records,
    parse_review,
    reduce_series,
)
from glasskit.strength import fit_weibull
from glasskit.training import invented
from glasskit.words.lab import (
    deviations,
    review_numbers,
    review_sentence,
    specimen_table,
)

BAR = "specimen,method,origin,force [N],span [mm],width [mm],thickness [mm]\n"
DISC = (
    "specimen,method,origin,force [N],load_diameter [mm],support_diameter [mm],"
    "plate_diameter [mm],thickness [mm]\n"
)
STRENGTH = np.random.default_rng(5).weibull(7, 40)


def bars(*origins):
    lines = [
        f"B{at},three_point_bar,{word},{200 * STRENGTH[at]:.1f},100,20,4"
        for at, word in enumerate(origins)
    ]
    return reduce_series(parse_records(BAR + "\n".join(lines)), "three_point_bar")


def discs(*origins):
    lines = [
        f"R{at},ring_on_ring,{word},{2000 * STRENGTH[at]:.1f},18,45,55,3"
        for at, word in enumerate(origins)
    ]
    return reduce_series(parse_records(DISC + "\n".join(lines)), "ring_on_ring")


def test_a_capital_or_another_word_makes_no_population_of_its_own():
    mixed = bars(*["edge", "Edge", " EDGE "] * 3, *["face", "Surface", "Tension_face"] * 3)
    plain = bars(*["edge"] * 9, *["surface"] * 9)
    assert list(mixed.fits) == ["edge", "surface"]
    for name, fit in plain.fits.items():
        assert mixed.fits[name].scale == fit.scale
    said = deviations(mixed)[3 + 1 :]  # three tolerances and a limit come first
    assert any(
        "surface 9 (in the file: face 3, Surface 3, Tension_face 3)" in one for one in said
    )


def test_near_twins_are_asked_about_and_not_merged():
    found = bars(*["edge"] * 6, *["edge chip"] * 6)
    assert list(found.fits) == ["edge", "edge chip"]
    assert any("Edge and edge chip look alike" in one for one in deviations(found))
    assert look_alikes(["load ring", "outside the load ring", "surface", "edge"]) == []
    assert folded("") == folded("?") == folded("Not known") == "unknown"


def test_what_a_ring_does_not_test_is_no_result_but_bore_as_much():
    found = discs(*["face"] * 8, "rim", "under load ring", "face")
    assert [record.specimen for record in found.aside] == ["R8", "R9"]
    assert found.reduction.value.size == len(found.records) == 9
    every = discs(*["face"] * 11).reduction.value
    tested = fit_weibull(every, np.isin(np.arange(11), (8, 9)))
    assert found.fits["surface"].scale == pytest.approx(tested.scale, rel=1e-12)
    said = "\n".join(deviations(found))
    assert "R8 broke at: edge. It is no result, for the test does not read edges" in said
    assert "R9 broke at: load ring" in said
    heads, rows = specimen_table(found)
    assert [row[0] for row in rows[-2:]] == ["R8", "R9"]
    for row, bore in zip(rows[-2:], every[8:10], strict=True):
        assert float(row[heads.index("result / MPa")]) == pytest.approx(bore / 1e6, rel=1e-5)
        assert row[-1] == "no result: it bore at least this"
    both = "\n".join(deviations(discs(*["face"] * 8, "rim", "edge")))
    assert "R8, R9 broke at: edge. They are no results, for the test" in both
    assert bars(*["edge"] * 6).aside == ()


def test_unknown_and_unbroken_are_two_things():
    known = [*["edge"] * 8, *["surface"] * 8]
    unknown, unbroken = bars(*known, *["?"] * 4), bars(*known, *["did not break"] * 4)
    assert unknown.origins["unknown"] == unbroken.origins["did not break"] == 4
    for name in ("edge", "surface"):
        assert unknown.fits[name].scale < unbroken.fits[name].scale
    assert any("Unknown origin, but broken: 4. Each" in one for one in deviations(unknown))
    assert any(one.startswith("Did not break: 4.") for one in deviations(unbroken))


def test_one_known_kind_has_both_bounds_and_none_says_why():
    found = bars(*["edge"] * 8, "", "?")
    all_in, none_in = found.fits.values()
    assert [fit.failures for fit in found.fits.values()] == [10, 8]
    assert all_in.scale < none_in.scale
    assert any(
        "between two fits: all broke from it, or none" in one for one in deviations(found)
    )
    blind = bars(*[""] * 8)
    assert blind.fits == {}
    said = "\n".join(deviations(blind))
    assert "Nothing is fitted: no origin has 5 known breaks." in said


def test_kappa(outside):
    pairs = [("yes", "yes")] * 20 + [("yes", "no")] * 5 + [("no", "yes")] * 10
    found = agreement(*zip(*pairs, *[("no", "no")] * 15, strict=True))
    source = "worked example of grant proposals in an open encyclopedia's article on kappa"
    for name, got, expected in (
        ("agreement", found.share, 0.70),
        ("kappa", found.kappa, 0.40),
    ):
        outside(name, got, expected, rel=1e-9, source=source, status="found")
    assert found.table.tolist() == [[20, 5], [10, 15]]
    assert found.apart == tuple(range(20, 35))
    # Source: binomtest(35, 50).proportion_ci(method="wilson"), less the chance of a half.
    wilson = binomtest(35, 50).proportion_ci(method="wilson")
    assert found.interval() == pytest.approx((np.array([*wilson]) - 0.5) / 0.5, rel=1e-6)
    # All twelve alike leave doubt; Cohen's own interval would leave none.
    alike = agreement(["edge"] * 8 + ["face"] * 4, ["edge"] * 8 + ["face"] * 4)
    assert alike.interval()[0] < 0.6
    assert alike.kappa == alike.interval()[1] == 1
    assert np.isnan(agreement(["edge"], ["Edge"]).kappa)
    with pytest.raises(ValueError, match="second must hold 1; got 2"):
        agreement(["edge"], ["edge", "face"])


def test_a_tolerance_reaches_what_is_used_only():
    text = DISC + "\n".join(f"R{i},ring_on_ring,face,{2000 + i},18,45,55,3" for i in range(3))
    series = parse_records(text + "\nR9,ring_on_ring,rim,2100,18,45,55,3")
    found = reduce_series(series, "ring_on_ring", {"force": Tolerance(relative=0.01)})
    assert found.reduction.budget.standard.shape == (3,)


REVIEW = "bar; Ada; Ben\n1; edge; Edge\n2; face; edge chip\n3; surface; FACE\n4; ?; edge\n"


def test_a_review_is_read_from_a_table_and_says_what_to_look_at_together():
    review = parse_review(f"# read in May\n{REVIEW}4; edge; edge\n5; edge\n; edge; edge\n")
    assert review.specimens == ("1", "2", "3", "4")
    assert review.readers == ("Ada", "Ben")
    assert [one.line for one in review.troubles] == [7, 8, 9]
    assert "a name of its own; got '4'" in review.troubles[0].words
    # Source: hand calculation; two of four agree, by chance (1*2 + 2*1 + 1*0 + 0*1)/16 = 1/4.
    assert review.agreement.kappa == pytest.approx(1 / 3)
    said = review_sentence(review)
    assert said.startswith("Both readers name 2 of 4 origins alike. Kappa is 0.33")
    rows = review_numbers(review)
    assert ("look at these together", "2, 4") in rows
    assert ("ask", "Edge and edge chip look alike: are they one origin?") in rows
    alike = parse_review("bar, a, b\n1, edge, edge\n2, edge, edge")
    assert "nothing to tell apart" in review_sentence(alike)
    with pytest.raises(ValueError, match="header must name specimen, first and second reader"):
        parse_review("bar; Ada\n1; edge")
    with pytest.raises(ValueError, match="first must hold one specimen or more"):
        parse_review("bar; Ada; Ben\n")


@pytest.mark.parametrize("look", [Look(), Look(large=True), Look(mono=True)])
def test_the_picture_of_a_review_has_no_layout_faults(look):
    text = invented.two_readers(np.random.default_rng(invented.SEED))
    assert layout_faults(still(ReviewScene(), parse_review(text), look, SCREEN)) == []
