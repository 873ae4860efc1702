# SPDX-License-Identifier: MIT
import psutil
import pytest

from glasskit.files import update
from glasskit.live import installation


def test_this_installation_is_well(tmp_path):
    lines = installation.check_installation(tmp_path).splitlines()
    assert lines[-1] == "All is well: go on."
    assert any(line.startswith("good: numpy ") for line in lines)
    assert list(tmp_path.iterdir()) == []


def test_the_test_bench_is_not_asked_for(monkeypatch, tmp_path):
    needed = ["no-such-lab>=1; extra == 'lab'", "no-such-test>=1; extra == 'test'"]
    monkeypatch.setattr(installation, "requires", lambda name: needed)
    text = installation.check_installation(tmp_path)
    assert "no-such-lab is missing" in text
    assert "no-such-test" not in text


@pytest.mark.parametrize(
    ("needed", "message"),
    [
        ("numpy>=99", 'python -m pip install "numpy>=99": numpy is 2'),
        ("no-such-package>=1", '"no-such-package>=1": no-such-package is missing'),
    ],
)
def test_what_is_missing_or_old_is_said_with_the_remedy(
    monkeypatch, needed, message, tmp_path
):
    monkeypatch.setattr(installation, "requires", lambda name: [needed])
    lines = installation.check_installation(tmp_path).splitlines()
    [asked] = [line for line in lines if message in line]
    assert asked.startswith("please run the first command of the README again, or ")
    assert lines[-1] == "1 to mend, see above."


def test_a_folder_that_cannot_be_written_is_named(tmp_path):
    text = installation.check_installation(tmp_path / "absent")
    assert f"please make {tmp_path / 'absent'} writable" in text


def test_free_memory_is_told_and_too_little_is_a_fault(monkeypatch, tmp_path):
    free = psutil.virtual_memory()
    for bytes_free, said in [
        (3.2e9, "good: 3.2 GB of"),
        (80e6, "please close other programs"),
    ]:
        monkeypatch.setattr(
            psutil, "virtual_memory", lambda n=bytes_free: free._replace(available=n)
        )
        assert said in installation.check_installation(tmp_path)


def test_a_kept_file_is_told_with_its_copy(tmp_path):
    assert "good: no my_practice.json yet" in installation.check_installation(tmp_path)
    kept = tmp_path / "my_practice.json"
    kept.write_text("{}")
    assert "it has no copy yet" in installation.check_installation(tmp_path)
    update(kept, lambda old: old + b" ")
    [copy] = (tmp_path / "backups").iterdir()
    assert f"a copy is {copy.name} of 20" in installation.check_installation(tmp_path)
    assert kept.read_text() == "{} "


def test_a_kept_file_that_is_held_is_a_fault(tmp_path):
    (tmp_path / "my_practice.json").mkdir()  # cannot be opened, as one held by a program
    lines = installation.check_installation(tmp_path).splitlines()
    assert any(line.startswith("please close whatever holds ") for line in lines)
    assert lines[-1] == "1 to mend, see above."
