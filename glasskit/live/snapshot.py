# SPDX-License-Identifier: MIT
r"""Keep a page as one file that needs no Python and no network.

``python -m glasskit.live.snapshot notebooks/01_why_glass_breaks.ipynb`` runs the page and
writes ``01_why_glass_breaks.html`` into the folder where you are: text, pictures, formulas,
and of every live part the picture, sentence and numbers as they stand after the run.
"""

import argparse
import base64
import html
import io
import re
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import matplotlib as mpl
import nbformat
from matplotlib.font_manager import FontProperties
from matplotlib.mathtext import MathTextParser, math_to_image
from nbclient import NotebookClient
from nbclient.exceptions import CellExecutionError
from nbconvert import HTMLExporter

from glasskit.files import replace_file

_reads: Any = nbformat.reads  # these two say no types
_exporter: Any = HTMLExporter

_POINT = 10.5  # type of formulas [pt]
_FORMULA = re.compile(r"(?<![\\$])\$([^$\n]+)\$(?!\$)")
_PICTURE = re.compile(r"\]\((\.\./assets/\w+\.png)\)")
_ALIVE = "application/vnd.jupyter.widget-view+json"
_FROM_THE_NETWORK = ("mathjax_url", "require_js_url", "jquery_url", "mermaid_js_url")


def snapshot(page: str | Path, target: str | Path) -> Path:
    """Run a page and write it as one HTML file that opens anywhere.

    Parameters
    ----------
    page : path
        A notebook.
    target : path
        The file to write; an old one is replaced.

    Returns
    -------
    Path
        The file written.

    Raises
    ------
    OSError
        If the page cannot be read or the file cannot be written.
    ValueError
        If the page is no notebook, or one of its cells fails.

    """
    page = Path(page)
    try:
        notebook = _reads(page.read_text(encoding="utf-8"), as_version=4)
    except (UnicodeDecodeError, nbformat.reader.NotJSONError):
        raise ValueError(f"page must be a notebook; got {page}") from None
    try:
        NotebookClient(notebook, resources={"metadata": {"path": page.parent}}).execute()
    except CellExecutionError as error:
        raise ValueError(f"page must run without an error; got {error.evalue}") from None

    def embedded(found: re.Match[str]) -> str:
        picture = (page.parent / found[1]).read_bytes()  # nbconvert keeps to the page's folder
        return f"](data:image/png;base64,{base64.b64encode(picture).decode()})"

    for cell in notebook.cells:
        if cell.cell_type == "markdown":
            cell.source = _FORMULA.sub(_drawn, _PICTURE.sub(embedded, cell.source))
        elif cell.cell_type == "code":
            cell.outputs = [_still(output) for output in cell.outputs if not _alive(output)]
    notebook.metadata.pop("widgets", None)
    exporter = _exporter(**dict.fromkeys(_FROM_THE_NETWORK, ""))
    resources = {"metadata": {"name": page.stem, "path": str(page.parent)}}
    written, _ = exporter.from_notebook_node(notebook, resources=resources)
    return replace_file(Path(target), written.encode())


def _alive(output: Any) -> bool:
    return _ALIVE in output.get("data", {})


def _still(output: Any) -> Any:
    """Return an output with its formula drawn."""
    if formula := output.get("data", {}).get("text/latex"):
        source = formula.strip("$").replace(r"\displaystyle", "").strip()
        output.data = {"text/html": _FORMULA.sub(_drawn, f"${source}$")}
    return output


def _drawn(found: re.Match[str]) -> str:
    """Return a formula as a picture that stands on the line, with its source in words."""
    source = found[1]
    drawable = f"${source.replace('tfrac', 'frac')}$"
    font, file = FontProperties(size=_POINT), io.BytesIO()
    below = MathTextParser("path").parse(drawable, prop=font).depth
    with mpl.rc_context({"svg.hashsalt": "glasskit"}):
        math_to_image(drawable, file, prop=font, format="svg")
    picture = base64.b64encode(file.getvalue()).decode()
    return (
        f'<img alt="{html.escape(source)}" style="display:inline;margin:0;'
        f'vertical-align:-{below:.1f}pt" src="data:image/svg+xml;base64,{picture}">'
    )


def main(words: Sequence[str] | None = None) -> int:
    """Do as the command line says; return the exit status."""
    parser = argparse.ArgumentParser(
        prog="python -m glasskit.live.snapshot",
        description="Keep a page as one file that needs no Python and no network.",
    )
    parser.add_argument("pages", nargs="+", type=Path, help="notebooks")
    for page in parser.parse_args(words).pages:
        try:
            print(f"{page} is kept as {snapshot(page, Path(f'{page.stem}.html'))}.")
        except (OSError, ValueError) as error:
            print(f"{page} cannot be kept: {error}")
            return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
