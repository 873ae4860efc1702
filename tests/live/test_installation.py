# SPDX-License-Identifier: MIT
import pytest

from glasskit.live import installation


def test_this_installation_is_well(tmp_path):
    lines = installation.check_installation(tmp_path).splitlines()
    assert lines[-1] == "All is well: go on."
    assert any(line.startswith("good: numpy ") for line in lines)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("needed", "message"),
    [
        ("numpy>=99", "please run the first command of the README again: numpy is "),
        ("no-such-package>=1", "please run the first command of the README again: no-such-"),
    ],
)
def test_what_is_missing_or_old_is_said_with_the_remedy(
    monkeypatch, needed, message, tmp_path
):
    monkeypatch.setattr(installation, "requires", lambda name: [needed])
    lines = installation.check_installation(tmp_path).splitlines()
    assert any(line.startswith(message) for line in lines)
    assert lines[-1] == "1 to mend, see above."


def test_a_folder_that_cannot_be_written_is_named(tmp_path):
    text = installation.check_installation(tmp_path / "absent")
    assert f"please make {tmp_path / 'absent'} writable" in text
