# SPDX-License-Identifier: MIT
from pathlib import Path

import pytest

from glasskit.files import next_free, replace_file


def test_new_and_old_files_hold_the_new_content_and_nothing_is_left_beside_them(tmp_path):
    path = tmp_path / "sheet.html"
    assert replace_file(path, b"first") == path
    path.chmod(0o640)
    replace_file(str(path), b"second")
    assert path.read_bytes() == b"second"
    assert path.stat().st_mode & 0o777 == 0o640
    assert list(tmp_path.iterdir()) == [path]


def test_a_failure_on_the_way_leaves_the_old_file_as_it_was(tmp_path, monkeypatch):
    path = tmp_path / "log.csv"
    path.write_bytes(b"old")

    def fail(self, target):
        raise OSError("the disk is full")

    monkeypatch.setattr(Path, "replace", fail)
    with pytest.raises(OSError, match="the disk is full"):
        replace_file(path, b"new")
    assert path.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [path]


def test_a_folder_that_is_not_there_is_an_error(tmp_path):
    with pytest.raises(FileNotFoundError):
        replace_file(tmp_path / "absent" / "a.csv", b"")


def test_names_written_together_share_the_first_number_that_none_of_them_bears(tmp_path):
    assert next_free(tmp_path / "absent", "plan") == [tmp_path / "absent/plan-01"]
    for older in ("plan-01.html", "risk[1]-02.csv", "planned-03.html"):
        (tmp_path / older).touch()
    assert [path.name for path in next_free(tmp_path, "plan", "risk[1]")] == [
        "plan-03",
        "risk[1]-03",
    ]
