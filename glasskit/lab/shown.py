# SPDX-License-Identifier: MIT
"""Show results as tables in a notebook: what `_repr_html_` hands out. All text is escaped."""

from collections.abc import Iterable, Sequence
from html import escape

from numpy.typing import ArrayLike

from glasskit.quantities import FloatArray, show

MOST = 10
"""Rows of a long table that are shown."""


def headed(title: str, *parts: str) -> str:
    """Return parts below a title.

    Examples
    --------
    >>> headed("Ada & Ben", "")
    '<div><strong>Ada &amp; Ben</strong></div>'

    """
    return f"<div><strong>{escape(title)}</strong>{''.join(parts)}</div>"


def listed(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Return a table of at most `MOST` rows, and how many more there are; nothing for none.

    Examples
    --------
    >>> listed(["a"], [["<b>"]])
    '<table><tr><th>a</th></tr><tr><td>&lt;b&gt;</td></tr></table>'

    """
    every = list(rows)
    if not every:
        return ""
    body = "".join(_row("td", row) for row in every[:MOST])
    more = f"<p>and {len(every) - MOST} more</p>" if len(every) > MOST else ""
    return f"<table>{_row('th', heads)}{body}</table>{more}"


def spanned(middle: ArrayLike, ends: FloatArray, kind: str, digits: int = 3) -> str:
    """Return a number and its interval as one reads them.

    Examples
    --------
    >>> import numpy as np
    >>> spanned(62e6, np.array([58e6, 66.5e6]), "stress")
    '62.0 MPa (58.0 MPa to 66.5 MPa)'

    """
    low, high = (show(end, kind, digits=digits) for end in ends)
    return f"{show(middle, kind, digits=digits)} ({low} to {high})"


def _row(tag: str, cells: Sequence[str]) -> str:
    return f"<tr>{''.join(f'<{tag}>{escape(cell)}</{tag}>' for cell in cells)}</tr>"
