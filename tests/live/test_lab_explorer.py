# SPDX-License-Identifier: MIT
"""The page for one's own specimens: lines set aside, the sentence, the report."""

import hashlib
from datetime import UTC, datetime

import numpy as np
import pytest
from pictures import LOOKS, faults

from glasskit.draw.look import Look
from glasskit.draw.picture import SCREEN, still
from glasskit.lab import parse_records, reduce_series
from glasskit.live.buttons import Buttons
from glasskit.live.lab import (
    chart_explorer,
    comparison_explorer,
    curve_explorer,
    laboratory_explorer,
    review_explorer,
)
from glasskit.training import invented

pytestmark = pytest.mark.usefixtures("unseen")

FEW = """specimen,method,origin,force [N],span [mm],width [mm],thickness [mm]
A,three_point_bar,edge,200,60,20,4
B,three_point_bar,edge,240,60,20,4
C,three_point_bar,,2x0,60,20,4
"""


@pytest.fixture(scope="module")
def raw():
    return invented.bars_and_rings(np.random.default_rng(invented.SEED))


def test_it_opens_on_the_invented_file_with_every_trouble_listed(raw):
    shown = laboratory_explorer()
    direct = reduce_series(parse_records(raw), "four_point_bar")
    assert np.array_equal(shown.result.reduction.value, direct.reduction.value)
    listed = shown.controls["series"].checks.value
    assert "41 of 50 lines are used" in shown.controls["series"].counted.value
    assert listed.count("<li>") == len(parse_records(raw).troubles) == 9
    assert "22 specimens" in shown.said
    assert "read before signing" in shown.words.value


@pytest.mark.parametrize("look", LOOKS, ids=str)
def test_the_picture_has_no_layout_fault(look):
    shown = laboratory_explorer()
    for title in ("strength of a bar, four-point bend", "strength of a disc, ring on ring"):
        shown.controls["method"].choose(title)
        assert faults(shown.scene, shown.result, look) == []


def test_another_method_and_wider_tolerances_are_followed():
    shown = laboratory_explorer()
    shown.controls["method"].choose("strength of a disc, ring on ring")
    assert shown.said.startswith("19 specimens, strength of a disc")
    narrow = shown.result.reduction.budget.standard.mean()
    shown.controls["size"].value = 0.2e-3
    assert shown.result.reduction.budget.standard.mean() > 1.5 * narrow
    shown.controls["method"].choose("strength of a rod, three-point bend")
    assert "must hold two specimens" in shown.note.value
    assert shown.said.startswith("19 specimens")


def test_each_mark_has_a_bar_as_wide_as_its_specimen_is_unsure():
    shown = laboratory_explorer()
    (ax,) = still(shown.scene, shown.result, Look(), SCREEN).axes
    bars = [
        line
        for part in ax.collections
        if hasattr(part, "get_segments")
        for line in part.get_segments()
    ]
    values = shown.result.reduction.value / 1e6
    half = shown.result.reduction.budget.expanded() / 1e6
    assert len(bars) == 21  # the one of unknown origin has no mark
    for (left, _), (right, _) in bars:
        nearest = np.argmin(np.abs(values - (left + right) / 2))
        assert (right - left) / 2 == pytest.approx(half[nearest], rel=1e-6)


def test_pasted_lines_are_kept_and_a_poor_header_is_said():
    shown = laboratory_explorer()
    shown.controls["series"].area.value = FEW
    shown.controls["method"].choose("strength of a bar, three-point bend")
    assert shown.said.startswith("2 specimens")
    assert "thickness" in " ".join(shown.result.reduction.budget.names)
    assert "2 of 3 lines are used. 1 set aside" in shown.controls["series"].counted.value
    assert "got &#x27;2x0&#x27;." in shown.controls["series"].checks.value
    shown.controls["series"].area.value = "specimen,weight\nA,3\n"
    assert "Header must have a column method" in shown.controls["series"].counted.value
    assert shown.said.startswith("2 specimens")
    shown.controls["series"].empty.click()
    assert shown.controls["series"].area.value.startswith("specimen,method,origin,force [N]")


@pytest.mark.parametrize("make", [laboratory_explorer, comparison_explorer, chart_explorer])
def test_nothing_is_saved_while_a_refusal_stands(make):
    shown = make()
    [name, *_] = (one for one, control in shown.controls.items() if hasattr(control, "area"))
    box = shown.controls[name]
    box.area.value = "specimen,weight\nA,3\n"
    assert "and is not saved" in shown.note.value
    assert [one.disabled for one in shown.savers] == [True, True]
    assert shown.written.value.startswith("No report while this stands: ")
    box.again.click()
    assert [one.disabled for one in shown.savers] == [False, False]
    assert shown.written.value == shown.note.value == ""


def test_the_report_is_saved_and_an_older_one_stays(tmp_path):
    shown = laboratory_explorer()
    shown.fields["tester"].value = "Ada <Ünal>"
    first = shown.save_report(tmp_path / "reports")
    second = shown.save_report(tmp_path / "reports")
    assert [first.name, second.name] == ["report-01.html", "report-02.html"]
    page = first.read_text(encoding="utf-8")
    assert "Ada &lt;Ünal&gt;" in page
    assert "see photo" in page
    assert "(B28)" in page
    (tmp_path / "in the way").write_text("")
    assert shown.save_report(tmp_path / "in the way") is None
    assert "could not be saved" in shown.written.value


def test_the_report_names_the_file_that_was_opened_and_says_if_it_was_changed():
    shown = laboratory_explorer()
    box = shown.controls["series"]
    content = FEW.replace("\n", "\r\n").encode("utf-16")
    file = {"name": "May.csv", "type": "text/csv", "size": len(content), "content": content}
    box.upload.value = ({**file, "last_modified": datetime.now(UTC)},)
    shown.controls["method"].choose("strength of a bar, three-point bend")
    assert f"May.csv, SHA-256 {hashlib.sha256(content).hexdigest()}" in shown.page({})
    box.area.value = box.area.value.replace("2x0", "220")
    changed = hashlib.sha256(box.area.value.encode()).hexdigest()
    assert f"May.csv, changed on the page, SHA-256 {changed}" in shown.page({})
    box.back.click()
    shown.controls["method"].choose("strength of a bar, four-point bend")
    assert "Raw data: pasted text" in shown.page({})


def test_buttons_tick_what_was_chosen():
    heard = []
    buttons = Buttons("x", "size", {"small": 1, "large": 2}, "small")
    buttons.on_change(lambda: heard.append(buttons.value))
    buttons.choices["large"].click()
    assert [button.icon for button in buttons.choices.values()] == ["", "check"]
    buttons.reset()
    assert heard == [2, 1]
    with pytest.raises(ValueError, match=r"^start must be one of"):
        Buttons("x", "size", {"small": 1}, "large")


def test_two_lots_are_compared_named_and_reported(tmp_path):
    shown = comparison_explorer()
    assert "scale of seamed 1.13 (1.05 to 1.22) times that of as cut" in shown.said
    shown.controls["other_name"].box.value = "Lot <7>"
    assert "scale of Lot <7>" in shown.said
    page = shown.save_report(tmp_path).read_text(encoding="utf-8")
    assert "Lot &lt;7&gt;: deviations and doubts" in page
    shown.controls["other"].area.value = shown.controls["series"].area.value
    assert "Second must hold broken specimens other than" in shown.note.value
    shown.controls["other_name"].box.value = " "
    assert shown.controls["other_name"].value == "seamed"


def test_a_reference_lot_is_charted_as_it_is_typed():
    shown = chart_explorer()
    assert "9 values in a row lay on one side of the middle by 2029-07." in shown.said
    assert (
        "1 begins with # and is taken for a remark" in shown.controls["columns"].counted.value
    )
    shown.controls["columns"].area.value = "month; mean [ksi]\n1; 9\n2; 9.1\n3; 8.9\n4; x\n"
    assert "4 lines are used" in shown.controls["columns"].counted.value
    assert "the first 3 values" in shown.words.value
    shown.controls["columns"].area.value = "month; mean [ksi]\n1; 9\n"
    assert "Values must be three or more; got 1" in shown.note.value


def test_a_curve_gives_load_and_stress_rate_or_says_why_not():
    shown = curve_explorer()
    assert shown.said.startswith("Highest load 261 N, stress there 61.2 MPa")
    assert "Columns not read: Travel" in shown.controls["columns"].counted.value
    shown.controls["thickness"].value = 3e-3
    assert "outside the 0.900 MPa to 1.30 MPa" in shown.said
    text = shown.controls["columns"].area.value
    shown.controls["columns"].area.value = text[: text.index("30,0;")]
    assert "No break in this record" in shown.image.value
    shown.controls["columns"].area.value = "time [s]; load [kg]\n0; 0\n"
    assert "must have a column of force" in shown.controls["columns"].counted.value


def test_two_readers_are_compared():
    shown = review_explorer()
    assert shown.said.startswith("Both readers name 18 of 24 origins alike. Kappa is 0.58")
    shown.controls["review"].area.value = "bar; Ada; Ben\n1; edge; edge\n2; face; face\n3\n"
    assert "2 of 3 lines are used. 1 set aside" in shown.controls["review"].counted.value
    assert shown.said.startswith("Both readers name 2 of 2")


def test_a_chart_is_printed_with_every_value_and_its_file(tmp_path):
    shown = chart_explorer()
    shown.fields["rig"].value = "rig 2 <old>"
    path = shown.save_report(tmp_path)
    page = path.read_text(encoding="utf-8")
    assert "rig 2 &lt;old&gt;" in page
    assert "what was done about a signal" in page
    assert page.count("9 or more on one side") >= 1
    for label, value in zip(shown.result.labels, shown.result.values, strict=True):
        assert f"<td>{label}</td><td>{value / 1e6:.1f} MPa</td>" in page
    assert "SHA-256" in page


def test_a_curve_of_another_test_asks_for_its_own_sizes(outside):
    shown = curve_explorer()
    shown.controls["method"].choose("strength of a disc, ring on ring")
    seen = {
        name
        for name, control in shown.controls.items()
        if control.widget.layout.display != "none"
    }
    sizes = {"load_diameter", "support_diameter", "plate_diameter", "thickness"}
    assert seen == {"columns", "method", "standard"} | sizes
    ratio = np.log(45 / 18)
    rim = 0.78 * (45**2 - 18**2) / (2 * 55**2)
    outside(
        "stress of a disc from its curve / MPa",
        shown.result.reduction.value / 1e6,
        3 * shown.result.curve.peak / (2 * np.pi * 4**2) * (rim + 1.22 * ratio),
        source="3 F/(2 pi h^2) [...], Poisson 0.22, in newtons and millimetres",
        status="hand calculation",
        rel=1e-9,
    )
    for title in shown.controls["method"].choices:
        shown.controls["method"].choose(title)
        assert shown.note.value == "" or "must" not in shown.note.value, title
