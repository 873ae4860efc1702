# SPDX-License-Identifier: MIT
import csv
from datetime import UTC, datetime

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from invent_class import ASSET, BLANK_AFTER, EACH, MISTAKES, MODULUS, PUPILS, SCALE, invented
from pictures import LOOKS, MONO, comes_back, drawn, faults

from glasskit.classroom import (
    class_result,
    find_cut,
    load_sheet,
    read_sheet,
    results,
    save_table,
    strength_of,
)
from glasskit.draw.results import ClassScene
from glasskit.live.results import HEADER, class_explorer
from glasskit.quantities import OutsideValidityWarning
from glasskit.words.results import class_numbers, class_sentence, row_sentences


def typed(masses, header="mass / g; span / mm; diameter / mm"):
    return read_sheet("\n".join([header, *(f"{mass:.2f}; 100; 1.8" for mass in masses)]))


def two_kinds(count=14, weak=40, strong=80):
    rng = np.random.default_rng(3)
    return np.concatenate([size * rng.weibull(10, count) for size in (weak, strong)])


RESULTS = {
    "class of 28": class_result(load_sheet(ASSET)),
    "two kinds": class_result(typed(two_kinds())),
    "six": class_result(typed([40, 52, 61, 66, 75, 81]), 1.1),
    "one": class_result(typed([60])),
    "none": class_result(typed([])),
    "alike": class_result(typed([60] * 6)),
}


# --- strengths ------------------------------------------------------------------------------


def test_the_rod_and_the_bar_of_the_handbooks(outside):
    rod = read_sheet("mass / g; span / mm; diameter / mm\n60; 100; 1.8").rows[0]
    outside(
        "strength of a 1.8 mm rod under 60 g over 100 mm, MPa",
        strength_of(rod) / 1e6,
        25.692,  # 8 x 0.588399 N x 0.1 m/(pi x 5.832e-9 m^3) = 0.470719/1.832177e-8
        abs_=1e-3,
        source="8 F L/(pi d^3)",
        status="hand calculation",
    )
    bar = read_sheet("force/N; span/mm; width/mm; thickness/mm\n300; 44; 11; 5.3").rows[0]
    outside(
        "strength of a glass bar in three-point bending, MPa",
        strength_of(bar) / 1e6,
        64.08,
        abs_=5e-3,
        source="worked exercise, 3 F L/(2 b d^2)",
        status="common practice",
    )


def test_a_row_without_a_size_has_no_strength():
    (row,) = read_sheet("mass / g; span / mm; diameter / mm\n60; 100;").rows
    assert np.isnan(strength_of(row))


# --- a class with mistakes, from the file to the plot ---------------------------------------


def test_the_class_in_the_assets_is_the_one_invented_here():
    assert ASSET.read_text(encoding="utf-8") == invented()
    assert "INVENTED" in invented().splitlines()[0]


def test_every_mistake_of_the_class_is_found_and_nothing_else():
    sheet = RESULTS["class of 28"].sheet
    blamed = {row.text.split(";")[0] for row in sheet.to_check}
    assert blamed == {f"pupil {pupil:02d}" for pupil, _ in MISTAKES}
    assert len(sheet.to_check) == len(MISTAKES)
    assert len(sheet.with_status("used")) == PUPILS * EACH - len(MISTAKES)
    assert len(sheet.with_status("blank")) == 2 * len(BLANK_AFTER) + 1  # and the remark
    assert len(sheet.rows) == len(invented().splitlines()) - 1


def test_the_class_finds_the_rods_that_were_invented(outside):
    fit = RESULTS["class of 28"].fit
    source = "the simulated rods, before mistakes and rounding of the readings"
    outside(
        "scale of the class's rods, MPa",
        fit.scale / 1e6,
        SCALE / 1e6,
        rel=0.04,  # two standard errors, 1.05/(modulus sqrt(104)), and the rounded diameters
        source=source,
        status="exact",
    )
    outside(
        "modulus of the class's rods",
        fit.modulus,
        MODULUS,
        rel=0.16,  # two standard errors, 0.78/sqrt(104)
        source=source,
        status="exact",
    )
    assert not RESULTS["class of 28"].cut.seen


def test_taking_the_slips_as_typed_would_ruin_the_line():
    sheet = RESULTS["class of 28"].sheet
    raw = [strength_of(row) for row in sheet.rows if row.status in ("used", "doubtful")]
    assert (
        max(raw) / min(raw)
        > 1000
        > 5 * RESULTS["class of 28"].strengths.max() / min(RESULTS["class of 28"].strengths)
    )


# --- two kinds ------------------------------------------------------------------------------


def test_the_cut_takes_away_the_variance_sums_by_hand_say(outside):
    values = np.exp([1.0, 2.0, 3.0, 8.0, 9.0, 10.0]) * 1e6
    # Hand calculation: mean 5.5, total 77.5 (4.5^2 + 3.5^2 + 2.5^2, twice); within the halves
    #   2 x (1 + 0 + 1) = 4; so the cut takes away 77.5 - 4 = 73.5 of it.
    cut = find_cut(values)
    outside(
        "share of the variance between two halves",
        cut.share,
        73.5 / 77.5,
        rel=1e-12,
        source="sums of squares of 1, 2, 3, 8, 9, 10",
        status="hand calculation",
    )
    assert cut.count_below == 3
    assert cut.stress == pytest.approx(np.exp(5.5) * 1e6)
    assert (cut.below, cut.above) == pytest.approx((values[1], values[4]))


def test_one_kind_is_taken_for_two_in_one_class_of_twenty(outside):
    rng = np.random.default_rng(11)
    seen = [find_cut(30e6 * rng.weibull(5, 28)).seen for _ in range(600)]
    outside(
        "share of one-kind classes in which two kinds are seen",
        np.mean(seen),
        0.05,
        abs_=0.027,  # three standard errors of 600 classes
        source="the level of the test",
        status="exact",
    )


def test_two_kinds_are_seen_where_they_lie_apart_and_missed_where_they_do_not():
    def seen(strong, count):
        rng = np.random.default_rng(12)
        mixed = (
            np.concatenate([s * rng.weibull(10, count // 2) for s in (55e6, strong)])
            for _ in range(60)
        )
        return np.mean([find_cut(strengths).seen for strengths in mixed])

    assert seen(100e6, 28) > 0.9
    assert seen(100e6, 8) < 0.7
    assert seen(60e6, 28) < 0.3


@settings(max_examples=30)
@given(factor=st.floats(1e-2, 1e2), power=st.floats(0.2, 5), seed=st.integers(0, 99))
def test_neither_scale_nor_modulus_changes_the_verdict(factor, power, seed):
    values = np.random.default_rng(seed).weibull(5, 20) + 0.05
    one, other = find_cut(1e7 * values), find_cut(1e7 * factor * values**power)
    assert other.share == pytest.approx(one.share, rel=1e-9)
    assert other.count_below == one.count_below


@pytest.mark.parametrize(
    ("values", "message"),
    [
        ([1e7, 2e7, 3e7, 4e7], "^strengths must hold 5 sticks or more; got 4$"),
        ([1e7] * 6, "^strengths must not all be equal"),
        ([1e7, 2e7, 0, 4e7, 5e7], "^strengths must be finite and positive"),
    ],
)
def test_a_cut_needs_sticks_that_differ(values, message):
    with pytest.raises(ValueError, match=message):
        find_cut(values)


# --- how many more, doubts ------------------------------------------------------------------


def test_how_many_more(outside):
    result = class_result(typed(np.linspace(40, 80, 10)), factor=1.2)
    # Hand calculation: 2 + 0.60793 (2 x 1.64485/0.364643)^2 = 51.5, and ten are there.
    outside(
        "more sticks for the modulus within a factor of 1.2",
        result.more,
        42,
        abs_=0,
        source="variance 6/(pi^2 n) of the logarithm of the modulus",
        status="hand calculation",
    )
    assert class_result(typed(np.linspace(40, 80, 60)), factor=1.2).more == 0
    with pytest.raises(ValueError, match=r"^factor must be above 1; got 1$"):
        class_result(typed([60]), factor=1.0)


def test_short_bars_and_strengths_of_no_material_are_doubted():
    header = "force / N; span / mm; width / mm; height / mm"
    with pytest.warns(OutsideValidityWarning, match="a span of 5 depths is short"):
        class_result(read_sheet(f"{header}\n30; 50; 20; 10"))
    with pytest.warns(OutsideValidityWarning, match="are the units in the first row right"):
        class_result(typed([60], "mass / kg; span / mm; diameter / mm"))


# --- table ----------------------------------------------------------------------------------


def test_the_table_keeps_every_row_as_typed(tmp_path):
    sheet = RESULTS["class of 28"].sheet
    path = save_table(sheet, tmp_path / "class.csv")
    with path.open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [row[f"as typed: {sheet.header}"] for row in rows] == [r.text for r in sheet.rows]
    used = [float(row["strength_MPa"]) for row in rows if row["status"] == "used"]
    assert np.sort(used) * 1e6 == pytest.approx(RESULTS["class of 28"].strengths, rel=1e-5)
    assert [p.name for p in tmp_path.iterdir()] == ["class.csv"]  # nothing half-written
    with pytest.raises(OSError, match="No such file"):
        save_table(sheet, tmp_path / "no folder" / "class.csv")


# --- words ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("class of 28", "104 of 112 rows are used; 3 cannot be read and 5 look like slips."),
        ("class of 28", "That is enough to pin it down to a factor of 1.2."),
        ("class of 28", "that does not prove there is only one."),
        ("two kinds", "All 28 rows are used."),
        ("two kinds", "fall into two kinds, one about 16 MPa, the other about 33 MPa"),
        ("six", "About 178 more sticks would pin it down to a factor of 1.1."),
        ("one", "needs 5 different sticks or more."),
        ("none", "There is no row with numbers yet."),
        ("alike", "needs 5 different sticks or more."),
    ],
)
def test_the_sentence_says_what_was_found(name, said):
    assert said in class_sentence(RESULTS[name], "metric")


def test_numbers_and_rows_in_words():
    numbers = dict(class_numbers(RESULTS["class of 28"], "us"))
    assert numbers["sticks used"] == "104"
    assert numbers["mean strength"].endswith(" ksi")
    assert class_numbers(RESULTS["none"], "metric") == [("sticks used", "0")]
    line, text, said = row_sentences(RESULTS["class of 28"].sheet)[0]
    assert (line, text[:8]) == ("line 12", "pupil 03")
    assert said.startswith("Load: “6o.5”")
    assert said.endswith("Mend it.")


# --- picture --------------------------------------------------------------------------------


@pytest.mark.parametrize("look", [*LOOKS, MONO])
@pytest.mark.parametrize("name", RESULTS)
def test_nothing_is_cut_off_and_no_words_overlap(name, look):
    assert faults(ClassScene(), RESULTS[name], look) == []


def test_there_is_a_dot_and_a_point_for_every_stick():
    result = RESULTS["two kinds"]
    scene = drawn(ClassScene(), result)
    strengths = result.strengths / 1e6
    assert scene.dots.get_xdata() == pytest.approx(strengths)
    height = scene.points.get_ydata()
    share = -np.expm1(-np.exp(height))
    assert share == pytest.approx((np.arange(1, 29) - 0.3) / 28.4)  # median ranks
    places = np.floor(strengths / 50 * 40)
    stacks = {p: np.sort(scene.dots.get_ydata()[places == p]) for p in places}
    for stack in stacks.values():
        assert stack == pytest.approx(np.arange(1, stack.size + 1))
    assert scene.kinds.get_visible()


def test_a_picture_that_returns_to_a_class_is_the_same():
    assert comes_back(ClassScene(), RESULTS["two kinds"], RESULTS["none"])


# --- explorer -------------------------------------------------------------------------------


def test_bad_text_says_so_and_loses_nothing():
    explorer = class_explorer()
    sheet, shown = explorer.controls["sheet"], explorer.result
    sheet.area.value = "what we measured\n60 100 1.8"
    assert explorer.result is shown
    assert "the first row must name" in explorer.note.value.lower()
    assert "The first row must name" in sheet.counted.value
    assert sheet.area.value == "what we measured\n60 100 1.8"
    explorer.reset()
    assert sheet.area.value == "what we measured\n60 100 1.8"
    sheet.area.value = f"{HEADER}<b>Ada; 6o; 100; 1.8"
    assert "&lt;b&gt;Ada" in sheet.checks.value
    assert "line 2" in sheet.checks.value
    assert explorer.note.value == ""


def test_whatever_is_replaced_can_be_brought_back():
    explorer = class_explorer()
    sheet = explorer.controls["sheet"]
    example = sheet.area.value
    assert sheet.back.disabled
    sheet.empty.click()
    assert sheet.area.value == HEADER
    mine = HEADER + "Ada; 60; 100; 1.8\n"
    sheet.area.value = mine
    content = memoryview(ASSET.read_bytes())
    file = {"name": "b.csv", "type": "text/csv", "size": len(content), "content": content}
    sheet.upload.value = ({**file, "last_modified": datetime.now(UTC)},)
    assert "104 of 112 rows are used" in explorer.said
    assert "Opened b.csv" in sheet.note.value
    sheet.again.click()
    assert sheet.area.value == example
    seen = set()
    for _ in range(4):
        sheet.back.click()
        seen.add(sheet.area.value)
    assert {mine, example, ASSET.read_text(encoding="utf-8")} <= seen


def test_pasting_changes_checks_picture_and_sentence():
    explorer = class_explorer()
    sheet, before = explorer.controls["sheet"], explorer.image.value
    sheet.area.value = ASSET.read_text(encoding="utf-8")
    assert explorer.image.value != before
    assert sheet.checks.value.count("<li>") == len(MISTAKES)
    explorer.controls["factor"].value = 1.1
    assert "more sticks would pin it down to a factor of 1.1" in explorer.said


def test_saving_writes_picture_and_table(tmp_path):
    explorer = class_explorer()
    names = [path.name for path in explorer.save(tmp_path)]
    stem = "what-our-class-found-01"
    assert names == [f"{stem}.png", f"{stem}.svg", f"{stem}.csv"]
    assert f"{stem}.csv" in explorer.saved.value
    again = explorer.save(tmp_path)
    assert again[2].name == "what-our-class-found-02.csv"
    blocked = tmp_path / "a file"
    blocked.write_text("")
    assert explorer.save(blocked) == []
    assert "could not be saved" in explorer.saved.value


def test_a_table_that_cannot_be_written_is_said(tmp_path, monkeypatch):
    explorer = class_explorer()
    folder = tmp_path / "what-our-class-found-01.csv"
    monkeypatch.setattr("glasskit.live.results.save_table", lambda *_: folder.read_bytes())
    assert len(explorer.save(tmp_path)) == 2
    assert "the table could not be saved" in explorer.saved.value.lower()


def test_the_least_number_of_sticks_is_the_one_in_words():
    assert f"needs {results.LEAST} different" in class_sentence(RESULTS["one"], "metric")


# --- two groups told apart by a column ------------------------------------------------------


def grouped(whole, nicked, heading="kind"):
    table = [f"{heading}; mass / g; span / mm; diameter / mm"]
    table += [f"whole; {mass}; 100; 1.8" for mass in whole]
    table += [f"Nicked; {mass}; 100; 1.8" for mass in nicked]
    return class_result(read_sheet("\n".join(table)))


WHOLE = (62, 71, 78, 84, 90, 99, 105)


def test_a_column_with_two_words_compares_two_groups():
    result = grouped(WHOLE, [0.5 * mass for mass in WHOLE])
    # Source: by construction, every nicked stick bore half as much as a whole one.
    assert result.pair.ratio == pytest.approx(0.5, rel=1e-6)
    assert result.pair.names == ("nicked", "whole")
    assert result.pair.shown
    low, high = result.pair.interval
    # Source: the interval of a ratio is the same in either direction.
    assert low * high == pytest.approx(0.25, rel=0.02)
    said = class_sentence(result, "metric")
    assert "Sticks marked “nicked” bore 0.50 times as much as those marked “whole”" in said
    assert "Chance alone hardly makes that" in said
    assert ("strength, “nicked” over “whole”", "0.500") in class_numbers(result, "metric")


def test_groups_that_hardly_differ_or_are_too_small_are_told_so():
    alike = grouped(WHOLE, [mass - 1 for mass in WHOLE])
    assert not alike.pair.shown
    assert "no more than chance makes" in class_sentence(alike, "metric")
    few = class_sentence(grouped(WHOLE, WHOLE[:4]), "metric")
    assert "too few to compare: 5 of each at least" in few


def test_names_and_remarks_are_no_two_groups():
    rows = [f"{name}; {mass}; 100; 1.8" for name, mass in zip("abcabca", WHOLE, strict=True)]
    sheet = read_sheet("\n".join(["who; mass / g; span / mm; diameter / mm", *rows]))
    assert sheet.halves is None
    assert class_result(sheet).pair is None
    assert "Sticks marked" not in class_sentence(class_result(sheet), "metric")
