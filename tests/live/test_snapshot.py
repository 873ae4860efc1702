# SPDX-License-Identifier: MIT
import re
from pathlib import Path

import nbformat
import pytest
from nbformat import v4

from glasskit.live.snapshot import _FORMULA, _drawn, main

NOTEBOOKS = Path(__file__).resolve().parents[2] / "notebooks"


def page(folder, *cells):
    notebook = v4.new_notebook(cells=list(cells))
    notebook.metadata.kernelspec = {"name": "python3", "display_name": "Python 3"}
    (folder / "notebooks").mkdir()
    nbformat.write(notebook, folder / "notebooks/page.ipynb")
    return str(folder / "notebooks/page.ipynb")


def test_a_page_is_kept_with_all_that_it_shows_and_asks_no_network(tmp_path, monkeypatch):
    (tmp_path / "assets").mkdir()
    (tmp_path / "assets/p.png").write_bytes(b"picture")
    kept = page(
        tmp_path,
        v4.new_markdown_cell(
            r"# Title" + "\n\n" + r"![A pane](../assets/p.png) $\tfrac{1}{2} mv^2$"
        ),
        v4.new_code_cell(
            "from glasskit.live import gallery\ngallery.explorer('01_why_glass_breaks')"
        ),
        v4.new_code_cell("import sympy\nx = sympy.Symbol('x')\nsympy.sqrt(x) / 2"),
    )
    monkeypatch.chdir(tmp_path)
    assert main([kept]) == 0
    written = (tmp_path / "page.html").read_text(encoding="utf-8")
    assert 'alt="A pane" src="data:image/png;base64,cGljdHVyZQ=="' in written
    assert r'alt="\tfrac{1}{2} mv^2"' in written
    assert r'alt="\frac{\sqrt{x}}{2}"' in written
    assert 'src="data:image/png;base64,' in written
    assert "Run this page to make this part live" in written
    assert "VBox(" not in written
    loaded = re.findall(r'(?:src|href)="([^"]*)"', written)
    assert {name for name in loaded if not name.startswith(("data:", "#"))} <= {""}


@pytest.mark.parametrize(
    ("text", "said"),
    [("no notebook", "page must be a notebook"), (None, "No such file")],
)
def test_what_cannot_be_kept_is_said(tmp_path, capsys, text, said):
    path = tmp_path / "page.ipynb"
    if text:
        path.write_text(text)
    assert main([str(path)]) == 1
    assert said in capsys.readouterr().out


def test_a_page_that_fails_is_said(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert main([page(tmp_path, v4.new_code_cell("1 / 0"))]) == 1
    assert "page must run without an error; got division by zero" in capsys.readouterr().out
    assert not (tmp_path / "page.html").exists()


def formulas():
    for path in sorted(NOTEBOOKS.glob("*.ipynb")):
        for cell in nbformat.read(path, as_version=4).cells:
            if cell.cell_type == "markdown":
                yield from _FORMULA.finditer(cell.source)


def test_every_formula_of_our_pages_can_be_drawn():
    drawn = [_drawn(found) for found in formulas()]
    assert len(drawn) > 40
