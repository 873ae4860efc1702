# SPDX-License-Identifier: MIT
"""The paper under every sheet: one HTML file that needs no network and prints anywhere.

A sheet is a string of HTML that carries its style and its pictures with it. No page size is
set, so A4 and US Letter both fit. What a user wrote is always escaped.
"""

import base64
import datetime
import io
import os
from collections.abc import Mapping
from functools import cache
from pathlib import Path

import matplotlib as mpl
from jinja2 import Environment, PackageLoader, StrictUndefined
from matplotlib.figure import Figure

from glasskit.classroom import COURSE
from glasskit.files import replace_file
from glasskit.quantities import one_of
from glasskit.tables import standing
from glasskit.words.glossary import in_course_words
from glasskit.words.tables import SURE


@cache
def _environment() -> Environment:
    made = Environment(
        loader=PackageLoader("glasskit.sheets"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.globals["standing"] = standing
    made.globals["version"] = ""
    made.filters["course"] = lambda text, age: in_course_words(text) if age in COURSE else text
    made.filters["sure"] = lambda status: SURE.get(status, status)
    return made


def render(template: str, on: datetime.date | None = None, **content: object) -> str:
    """Return a sheet as one HTML document.

    Parameters
    ----------
    template : str
        File in ``glasskit/sheets/templates`` that extends ``base.html``.
    on : date, optional
        Date in the footer; today by default.
    **content : object
        What the template names. Text is escaped.

    Returns
    -------
    str
        HTML with style and pictures inside.

    """
    day = on or datetime.date.today()
    return _environment().get_template(template).render(day=day.isoformat(), **content)


def picture(figure: Figure) -> str:
    """Return a figure as a data URI, for the ``src`` of an image with words of its own.

    Parameters
    ----------
    figure : Figure
        From `glasskit.draw.picture.still`; a sheet for the copier takes a mono look.

    Returns
    -------
    str
        SVG in base 64, the same for the same figure.

    """
    file = io.BytesIO()
    metadata: dict[str, str | None] = {"Date": None}
    with mpl.rc_context({"svg.hashsalt": "glasskit"}):
        figure.savefig(file, format="svg", metadata=metadata)
    return f"data:image/svg+xml;base64,{base64.b64encode(file.getvalue()).decode()}"


def save(html: str, path: str | os.PathLike[str]) -> Path:
    """Write a sheet to a file, whole or not at all.

    Parameters
    ----------
    html : str
        From one of the functions that make sheets.
    path : path
        Where to, ending in .html; an old file of that name is replaced.

    Returns
    -------
    Path
        The file written. Open it in a browser and print it.

    Raises
    ------
    ValueError
        If `path` does not end in .html.
    OSError
        If the folder cannot be written to.

    """
    if Path(path).suffix != ".html":
        raise ValueError(f"path must end in .html; got {str(path)!r}")
    return replace_file(path, html.encode())


def filled(
    fields: Mapping[str, str], given: Mapping[str, str] | None
) -> list[tuple[str, str]]:
    """Return label and text of each field; an empty text is a line to write on.

    Parameters
    ----------
    fields : mapping
        Name of each field to its label.
    given : mapping, optional
        Name of a field to what is known already.

    Raises
    ------
    ValueError
        If `given` names a field that the sheet has not.

    """
    known = given or {}
    for name in known:
        one_of("field", name, fields)
    return [(label, str(known.get(name, ""))) for name, label in fields.items()]
