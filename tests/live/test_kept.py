# SPDX-License-Identifier: MIT
"""What a class kept, shown on page 31: real tables, an empty folder, other tables."""

from datetime import date
from pathlib import Path

import pytest

from glasskit.live.colours import colours_explorer
from glasskit.live.kept import kept_panel
from glasskit.measured import Reading, keep_reading


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)


def test_what_a_class_kept_is_shown_with_middle_and_spread():
    panel = kept_panel()
    assert "No readings are kept in recordings/readings.csv yet" in panel.note.value
    colours_explorer().keep_readings()  # the invented example: never among what was measured
    panel.again.click()
    assert panel.note.value == ""
    assert panel.said.value == "No reading of a recording of your own is kept yet."
    assert "this is of the invented example" in panel.table.value
    for share in (0.62, 0.64, 0.66, 0.8):
        kept = Reading(
            what="share of speed <kept>",
            kind="number",
            value=share,
            low=share - 0.03,
            high=share + 0.03,
            file="tile.m4a",
        )
        keep_reading("recordings/readings.csv", kept, date(2030, 5, 31))
    panel.again.click()
    assert panel.said.value.startswith("Readings kept: 4; things measured: 1.")
    cells = ("share of speed &lt;kept&gt;", "4", "0.650", "0.620 to 0.800", "3 of 4 intervals")
    assert all(f"<td>{cell}" in panel.table.value for cell in cells)
    fall = Reading(
        what="fall", kind="height", value=0.3048, low=0.3, high=0.31, file="ball.m4a"
    )
    keep_reading("recordings/readings.csv", fall, date(2030, 5, 31))
    panel.units.click()
    assert "<td>1.00 ft</td>" in panel.table.value
    assert "<td>0.650</td>" in panel.table.value
    panel.units.click()
    assert "<td>0.305 m</td>" in panel.table.value


def test_another_table_is_said_to_be_none():
    Path("recordings").mkdir()
    Path("recordings/readings.csv").write_text("mass; span\n1; 2\n")
    panel = kept_panel()
    assert "cannot be read: header must name the columns" in panel.note.value
    assert panel.table.value == ""
