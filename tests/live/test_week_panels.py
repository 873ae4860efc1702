# SPDX-License-Identifier: MIT
"""The panels of the first week without a browser: every button, and the record behind them."""

import pytest

from glasskit.live.audits import audit_panel
from glasskit.live.incidents import incident_panel
from glasskit.live.surfaces import surfaces_explorer
from glasskit.live.week import week_panel
from glasskit.training import SURFACES, incidents, open_week, tasks

pytestmark = pytest.mark.usefixtures("unseen")


def evidence(path):
    return [entry.evidence for entry in open_week(path).entries]


def test_a_task_is_filed_read_again_and_printed(tmp_path):
    path = tmp_path / "my_week.csv"
    panel = week_panel(path)
    panel.evidence.value, panel.seen_by.value = "page, signed", "Ben"
    panel.add.click()
    assert evidence(path) == ["page, signed"]
    assert "page, signed" in panel.state.value
    panel.add.click()
    assert "must say what shows" in panel.note.value
    panel.day.value, panel.evidence.value = "Monday", "a list"
    panel.add.click()
    assert "Invalid isoformat" in panel.note.value or "must" in panel.note.value
    panel.name.value = "Ada"
    panel.print.click()
    page = (tmp_path / "my_week-page.html").read_text(encoding="utf-8")
    assert "Ada" in page
    assert "Ben" in page


def test_a_record_that_cannot_be_written_or_read_is_said(tmp_path):
    (tmp_path / "in the way").write_text("")
    panel = week_panel(tmp_path / "in the way" / "my_week.csv")
    panel.evidence.value = "page"
    panel.add.click()
    assert "cannot be written" in panel.note.value
    panel.file.value = ""
    assert "cannot be read" in panel.note.value
    assert panel.save_page() is None
    (tmp_path / "photo.csv").write_bytes(b"\x89PNG\x00\xff\x00\x81")
    panel.file.value = str(tmp_path / "photo.csv")
    assert panel.save_page() is None
    assert "No page is saved: " in panel.note.value


def test_six_surfaces_are_scored_at_the_first_check_and_filed(tmp_path):
    path = tmp_path / "my_week.csv"
    explorer = surfaces_explorer(path)
    for place, letter in enumerate("ABCDEF"):
        explorer.controls["place"].choose(letter)
        piece = explorer._read(place, 0.0, 0.0, 0.0, "face").surface
        if place == 0:  # at first all wrong, then right: the first check counts
            explorer.controls["radius"].value = 4e-3
            explorer.controls["answer"].choose(
                "face" if piece.answer != "face" else "outside the loads"
            )
            explorer.check.click()
            assert "Not yet" in explorer.reply.value
        explorer.controls["across"].value = piece.across
        explorer.controls["up"].value = piece.up
        explorer.controls["radius"].value = piece.radius
        explorer.controls["answer"].choose(piece.answer)
        explorer.check.click()
        assert "Right" in explorer.reply.value
    assert evidence(path) == [f"5 of {len(SURFACES)} at the first check, set 1"]
    explorer.others.click()
    assert explorer.tries == {}
    assert explorer.controls["place"].value == 0


def test_an_audit_is_checked_line_by_line_and_its_first_check_is_filed(tmp_path):
    path = tmp_path / "my_week.csv"
    panel = audit_panel("report", path)
    assert len(panel.boxes) == len(panel.audit.lines)
    panel.check.click()
    assert "missed" in panel.reply.value
    for place in panel.audit.faults:
        panel.boxes[place].value = True
    panel.check.click()
    assert "nothing sound was blamed" in panel.reply.value
    (filed,) = evidence(path)
    assert filed.startswith("audit 1: 0 of ")
    panel.other.click()
    assert panel.audit.seed == 2
    assert panel.reply.value == ""
    assert not any(box.value for box in panel.boxes)


def test_every_incident_is_answered_and_the_first_answer_filed(tmp_path):
    path = tmp_path / "my_week.csv"
    panel = incident_panel(path)
    for one in incidents():
        for place in range(len(one.options)):
            panel.choices[place].click()
            said = panel.reply.value.replace("&#x27;", "'")
            assert one.replies[place] in said
        panel.other.click()
    assert len(evidence(path)) == len(incidents())
    assert panel.incident == incidents()[0]
    assert "incident" in tasks()
