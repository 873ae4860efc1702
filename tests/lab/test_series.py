# SPDX-License-Identifier: MIT
import csv
import datetime
import hashlib
import re
from dataclasses import replace
from html.parser import HTMLParser

import numpy as np
import pytest

from glasskit import __version__
from glasskit.draw.lab import PaperScene
from glasskit.draw.look import Look
from glasskit.draw.picture import SCREEN, layout_faults, save, still
from glasskit.lab import Tolerance, parse_records, read_records, reduce_series
from glasskit.sheets.lab import PLOT, laboratory_report
from glasskit.strength import fit_masked
from glasskit.training import invented
from glasskit.words.lab import budget_rows, deviations, outcome_sentence, result_rows

DAY = datetime.date(2030, 1, 2)
TOLERANCES = {
    "force": Tolerance(absolute=1.0, relative=0.005),
    "outer_span": Tolerance(absolute=0.5e-3),
    "inner_span": Tolerance(absolute=0.5e-3),
    "width": Tolerance(absolute=0.05e-3),
    "thickness": Tolerance(absolute=0.02e-3),
}


@pytest.fixture(scope="module")
def series():
    return parse_records(invented.bars_and_rings(np.random.default_rng(invented.SEED)))


@pytest.fixture(scope="module")
def bars(series):
    return reduce_series(series, "four_point_bar", TOLERANCES)


def test_fits_are_those_of_each_origin_with_the_others_censored(bars):
    names = np.array([record.origin for record in bars.records])
    assert set(bars.fits) == {"edge", "surface"}
    may = [np.isin(names, (name, "unknown")) for name in bars.fits]
    for fit, other in zip(
        bars.fits.values(), fit_masked(bars.reduction.value, may), strict=True
    ):
        assert fit.modulus == other.modulus


def test_the_truth_lies_within_the_intervals(bars):
    for name, (modulus, scale) in invented.BARS.items():
        fit = bars.fits[name]
        low, high = fit.interval(0.99)
        assert low < modulus < high
        low, high = fit.scale_interval(0.99)
        assert low < scale < high


def test_every_planted_problem_is_named(bars, series):
    said = "\n".join(deviations(bars))
    for words in (
        "thickness is 0.00101 times",
        "force is 0.00",
        "force must be given",
        "'see photo'",
        "B18 stands on lines 20 and 21, one must be wrong",
        "must have 12 cells",
        "quotation marks",
        "(B28)",
        "Unknown origin, but broken: 1. Each counts to every fitted kind",
        "leave the modulus open",
    ):
        assert words in said
    rings = "\n".join(deviations(reduce_series(series, "ring_on_ring")))
    assert "(R12)" in rings
    assert "larger than load_diameter" in rings
    assert "Thickness: no tolerance was stated" in rings


def test_the_bias_is_taken_off_the_modulus_where_all_broke_alike(bars, series):
    assert not any("unbiased" in row[2] for row in result_rows(bars))
    edges = [record for record in bars.records if record.origin == "edge"]
    alike = reduce_series(replace(series, records=tuple(edges)), "four_point_bar", TOLERANCES)
    (row,) = result_rows(alike)
    count, modulus = len(edges), alike.fits["edge"].modulus
    shown = float(row[2].removesuffix(" unbiased").split()[-1])
    # [C1239]; tolerance: two digits are shown.
    assert shown == pytest.approx(modulus * (count - 2) / (count - 0.68), rel=0.05)


def test_words_and_rows(bars):
    said = outcome_sentence(bars)
    assert said.startswith("22 specimens, strength of a bar, four-point bend: mean ")
    assert "more than one kind of flaw" in said
    assert "ksi" in outcome_sentence(bars, "us")
    assert {row[0] for row in result_rows(bars)} == {"edge", "surface"}
    shares = [float(row[2].removesuffix("%")) for row in budget_rows(bars)]
    assert sum(shares) == pytest.approx(100, abs=1.5)


def test_hardness_has_a_mean_and_no_fit():
    text = "specimen,method,load [kgf],diagonal [um]\n1,vickers,1,58\n2,vickers,1,59"
    found = reduce_series(parse_records(text), "vickers")
    assert found.fits == {}
    assert found.origins == {"unknown": 2}
    assert "GPa" in outcome_sentence(found)
    assert "<img" not in laboratory_report(found, on=DAY)


@pytest.mark.parametrize(
    "look", [Look(), Look(large=True), Look(system="us"), Look(mono=True)]
)
def test_weibull_paper_has_no_layout_faults(bars, look):
    assert layout_faults(still(PaperScene(), bars, look, SCREEN)) == []


def test_weibull_paper_fits_the_page(series, bars):
    rings = reduce_series(series, "ring_on_ring")
    for outcome in (bars, rings):
        for system in ("metric", "us"):
            look = Look(mono=True, system=system)
            assert layout_faults(still(PaperScene(), outcome, look, PLOT)) == []


def test_the_picture_can_be_saved(bars, tmp_path):
    path = save(still(PaperScene(), bars), tmp_path / "a.png", text=outcome_sentence(bars))
    assert path.read_bytes().startswith(b"\x89PNG")


def test_report_stands_alone_and_escapes_what_users_write(bars):
    evil = '<script>alert("x")</script>'
    html = laboratory_report(bars, {"glass": evil}, on=DAY)
    assert "<script" not in html
    assert "2030-01-02" in html
    assert re.search(r"(?:src|href)\s*=\s*[\"'](?!data:)", html) is None
    assert "read before signing" in html
    for item in deviations(bars):
        assert re.split("['\"]", item)[0] in html
    assert "checked by" in html


def test_a_thickness_off_by_two_is_named_and_used():
    head = (
        "specimen,method,origin,force [N],outer_span [mm],inner_span [mm],width [mm],"
        "thickness [mm]\n"
    )
    lines = [
        f"B{i},four_point_bar,edge,{250 + i},100,50,20,{4 + i % 5 / 100}" for i in range(10)
    ]
    odd = [*lines, "B99,four_point_bar,edge,255,100,50,20,8.0"]
    found = reduce_series(parse_records(head + "\n".join(odd)), "four_point_bar")
    assert len(found.records) == 11
    assert [bool(words) for words in found.doubts] == [False] * 10 + [True]
    [said] = [one for one in deviations(found) if one.startswith("Doubtful, yet used: B99")]
    assert "thickness is 1.99 times the median of its like" in said
    assert "the result is 0.25" in said
    # What the stated tolerance allows is no doubt.
    wide = reduce_series(
        parse_records(head + "\n".join(odd)),
        "four_point_bar",
        {"thickness": Tolerance(relative=0.3)},
    )
    assert wide.doubts[-1] == ()


def test_true_strengths_are_hardly_ever_doubted():
    rng = np.random.default_rng(3)
    head = "specimen,method,origin,force [N],span [mm],width [mm],thickness [mm]\n"
    count = 0
    for _ in range(20):
        force = 200 * rng.weibull(5.0, 30)
        lines = [
            f"B{i},three_point_bar,edge,{one:.2f},100,20,4" for i, one in enumerate(force)
        ]
        found = reduce_series(parse_records(head + "\n".join(lines)), "three_point_bar")
        count += sum(map(bool, found.doubts))
    # A Weibull strength lies six robust deviations low about once in a thousand.
    assert count <= 4


class _Tables(HTMLParser):
    """Collect the rows of each table of a page by the class of the table."""

    def __init__(self):
        super().__init__()
        self.tables, self.rows, self.inside = {}, [], False

    def handle_starttag(self, tag, attrs):
        if tag == "table":
            self.rows = self.tables.setdefault(dict(attrs).get("class", ""), [])
        if tag == "tr":
            self.rows.append([])
        if tag in ("td", "th"):
            self.inside = True
            self.rows[-1].append("")

    def handle_endtag(self, tag):
        self.inside = self.inside and tag not in ("td", "th")

    def handle_data(self, data):
        if self.inside:
            self.rows[-1][-1] += data


def _printed(outcome, system="metric"):
    parser = _Tables()
    parser.feed(laboratory_report(outcome, on=DAY, system=system))
    entered = {row[0]: row[1:] for row in parser.tables["grid entered"]}
    heads, *rows = parser.tables["grid specimens"]
    return entered, [dict(zip(heads, row, strict=True)) for row in rows]


def test_each_stress_of_a_bar_can_be_computed_from_the_printed_page(bars, outside):
    entered, rows = _printed(bars)
    assert len(rows) == len(bars.records)
    assert entered["thickness"] == ["see each specimen", "± 0.02 mm"]
    assert entered["force"][1] == "± 1 N and ± 0.5%"
    outer = float(entered["outer span"][0].removesuffix(" mm"))
    for row in rows:
        force, inner, width, depth = (
            float(row[key])
            for key in ("force / N", "inner span / mm", "width / mm", "thickness / mm")
        )
        outside(
            f"stress of {row['specimen']} from the printed page, MPa",
            float(row["result / MPa"]),
            3 * force * (outer - inner) / (2 * width * depth**2),
            rel=1e-5,
            source="textbook bending, by hand from the printed numbers",
            status="independent method",
        )


def test_each_stress_of_a_disc_can_be_computed_from_the_printed_page(series):
    entered, rows = _printed(reduce_series(series, "ring_on_ring"))
    load, support = (
        float(entered[f"{name} diameter"][0].split()[0]) for name in ("load", "support")
    )
    nu = float(entered["poisson"][0])
    for row in rows:
        plate, depth = float(row["plate diameter / mm"]), float(row["thickness / mm"])
        # Source: independent method, the formula of C1499 as printed on the page.
        bracket = (1 - nu) * (support**2 - load**2) / (2 * plate**2)
        bracket += (1 + nu) * np.log(support / load)
        stress = 3 * float(row["force / N"]) / (2 * np.pi * depth**2) * bracket
        assert float(row["result / MPa"]) == pytest.approx(stress, rel=1e-5)


def test_the_report_names_its_file_its_version_and_each_line_set_aside(tmp_path, series):
    path = tmp_path / "bars of May.csv"
    path.write_bytes(invented.bars_and_rings(np.random.default_rng(invented.SEED)).encode())
    outcome = reduce_series(read_records(path), "four_point_bar")
    html = laboratory_report(outcome, on=DAY)
    checksum = hashlib.sha256(path.read_bytes()).hexdigest()
    for words in (
        "bars of May.csv",
        checksum,
        f"glasskit {__version__}",
        "Lines for this test: 30; used 22, no result 0, set aside 8.",
        "B15,four_point_bar,surface,272,100,50,20.10,see photo",
    ):
        assert words in html
    rings = laboratory_report(reduce_series(series, "ring_on_ring"), on=DAY)
    assert "see photo" not in rings
    assert "R07,ring_on_ring" in rings
    assert "pasted text" in rings


def test_the_outcome_leaves_as_a_table(bars, tmp_path):
    table = bars.table()
    section = np.array(table["width"]) * np.array(table["thickness"]) ** 2
    span = np.array(table["outer_span"]) - np.array(table["inner_span"])
    # Source: independent method, textbook bending from the table's own columns.
    assert table["result"] == pytest.approx(1.5 * np.array(table["force"]) * span / section)
    bars.to_csv(tmp_path / "out.csv")
    with open(tmp_path / "out.csv", encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [row["specimen"] for row in rows] == table["specimen"]
    assert [float(row["uncertainty"]) for row in rows] == table["uncertainty"]
    assert len(repr(bars)) < 120
    assert "22 specimens" in repr(bars)


def test_refusals(series, bars):
    with pytest.raises(ValueError, match="series must hold two specimens of knoop; got 0"):
        reduce_series(series, "knoop")
    with pytest.raises(ValueError, match="tolerance must be one of"):
        reduce_series(series, "four_point_bar", {"depth": Tolerance()})
    with pytest.raises(ValueError, match="field must be one of"):
        laboratory_report(bars, {"weather": "fine"})
    text = "specimen,method,radius [mm],constant [MPa√m]\n1,mirror,1,1.9\n2,mirror,1.1,"
    with pytest.raises(
        ValueError, match=r"constant must be given on every line or none.*\[3\]"
    ):
        reduce_series(parse_records(text), "mirror")
