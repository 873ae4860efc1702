# SPDX-License-Identifier: MIT
import shutil
import subprocess
import sys
import tomllib
import zipfile
from importlib.metadata import PackagePath, PathDistribution
from pathlib import Path

import pytest

from glasskit import __main__ as opening
from glasskit import __version__

ROOT = Path(__file__).resolve().parents[1]


@pytest.fixture
def started(monkeypatch):
    """Return what would be started, and where, instead of starting it."""
    calls = []
    monkeypatch.setattr(
        opening.subprocess, "call", lambda command, cwd: calls.append((command, cwd)) or 0
    )
    return calls


def test_pages_are_laid_out_and_jupyterlab_opens_the_first(tmp_path, started, capsys):
    folder = tmp_path / "pages"
    assert opening.main([str(folder)]) == 0
    for part in ("notebooks/*.ipynb", "assets/*.*"):
        ours = {path.name: path.read_bytes() for path in ROOT.glob(part)}
        assert ours
        assert {path.name: path.read_bytes() for path in folder.glob(part)} == ours
    [(command, cwd)] = started
    assert command[1:3] == ["-m", "jupyterlab"]
    assert cwd == folder
    opened = command[3].removeprefix("--LabApp.default_url=/lab/tree/")
    assert (cwd / opened).is_file()
    assert ", 0 that were there" in capsys.readouterr().out


def test_a_kit_from_a_wheel_is_found_and_what_python_left_in_it_is_no_page(
    tmp_path, started, monkeypatch
):
    share = tmp_path / "share/glasskit"
    for page in ("notebooks/00_start_here.ipynb", "assets/__pycache__/config.pyc"):
        (share / page).parent.mkdir(parents=True)
        (share / page).touch()
    entry = PackagePath("share/glasskit/notebooks/00_start_here.ipynb")
    entry.dist = PathDistribution(tmp_path / "glasskit.dist-info")
    monkeypatch.setattr(opening, "__file__", str(tmp_path / "lib/glasskit/__main__.py"))
    monkeypatch.setattr(opening, "files", lambda name: [entry])
    assert opening.kit() == share
    assert opening.lay_out(tmp_path / "mine") == (1, 0)


def test_a_page_that_somebody_changed_stays(tmp_path, started, capsys):
    changed = tmp_path / "notebooks/00_start_here.ipynb"
    changed.parent.mkdir()
    changed.write_text("mine")
    opening.main([str(tmp_path)])
    assert changed.read_text() == "mine"
    assert ", 1 that were there stay as they are" in capsys.readouterr().out


def test_without_jupyterlab_the_pages_are_there_and_the_remedy_is_said(
    tmp_path, started, monkeypatch, capsys
):
    monkeypatch.setattr(opening, "find_spec", lambda name: None)
    assert opening.main([str(tmp_path)]) == 1
    assert started == []
    assert 'python -m pip install "jupyterlab>=4.2,<5"' in capsys.readouterr().out
    assert (tmp_path / "notebooks/00_start_here.ipynb").is_file()


def test_the_remedy_asks_for_the_version_that_the_kit_asks_for():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    [wanted] = [
        name
        for name in project["optional-dependencies"]["lab"]
        if name.startswith("jupyterlab")
    ]
    assert f'"{wanted}"' in opening._LAB


def test_a_folder_that_cannot_be_made_is_named(tmp_path, started, capsys):
    (tmp_path / "taken").touch()
    assert opening.main([str(tmp_path / "taken")]) == 1
    assert f"cannot be laid into {tmp_path / 'taken'}: " in capsys.readouterr().out
    assert started == []


def test_the_wheel_holds_all_modules_tables_pages_and_pictures(tmp_path):
    source = tmp_path / "source"
    for name in ("glasskit", "notebooks", "assets"):
        unwanted = shutil.ignore_patterns("__pycache__", ".ipynb_checkpoints")
        shutil.copytree(ROOT / name, source / name, ignore=unwanted)
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copy(ROOT / name, source)
    build = f"from setuptools.build_meta import build_wheel; build_wheel({str(tmp_path)!r})"
    subprocess.run([sys.executable, "-c", build], cwd=source, check=True, capture_output=True)
    [wheel] = tmp_path.glob("*.whl")
    with zipfile.ZipFile(wheel) as packed:
        names = set(packed.namelist())
    pages = f"{wheel.name.split('-py3')[0]}.data/data/share/glasskit"
    for path in [*source.glob("notebooks/*.ipynb"), *source.glob("assets/*.*")]:
        assert f"{pages}/{path.relative_to(source).as_posix()}" in names
    for path in source.glob("glasskit/**/*.*"):
        assert path.relative_to(source).as_posix() in names
    assert __version__ in wheel.name


def test_a_script_beside_the_clone_finds_the_package_and_not_the_folder(tmp_path):
    (tmp_path / "glasskit").mkdir()  # the clone's folder, which holds the package in turn
    script = tmp_path / "mine.py"
    script.write_text(
        "import glasskit\nfrom glasskit import materials\n"
        "print(glasskit.__version__, materials.glass('soda-lime').name)\n"
    )
    said = subprocess.run(
        [sys.executable, script], capture_output=True, text=True, check=False
    )
    assert said.stdout.split() == [__version__, "soda-lime"], said.stderr
