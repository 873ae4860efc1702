# SPDX-License-Identifier: MIT
"""Pictures for slides: what an explorer shows, as PNG of 1920 by 1080 pixels and as SVG."""

import os
from pathlib import Path
from typing import Generic, Protocol

from glasskit.draw.look import Look
from glasskit.draw.picture import SLIDE, save, still
from glasskit.draw.scene import Result, Scene


class Shown(Protocol, Generic[Result]):
    """Whatever shows a result, such as an explorer."""

    @property
    def scene(self) -> Scene[Result]:
        """What draws."""

    @property
    def result(self) -> Result:
        """What is drawn."""

    @property
    def look(self) -> Look:
        """Units, type size, colour or hatch."""

    @property
    def title(self) -> str:
        """What it is."""

    @property
    def alt(self) -> str:
        """The picture in words."""


def slides(
    shown: Shown[Result], folder: str | os.PathLike[str], name: str, look: Look | None = None
) -> tuple[Path, Path]:
    """Write what an explorer shows as two files for slides.

    Parameters
    ----------
    shown : Shown
        An explorer, as it stands.
    folder : path
        Folder that exists.
    name : str
        File name without ending.
    look : Look, optional
        Another look than the explorer's, such as large type for the back row.

    Returns
    -------
    tuple of Path
        PNG of 1920 by 1080 pixels, and SVG. Both carry the title and the sentence.

    Raises
    ------
    OSError
        If the folder cannot be written to.

    """
    figure = still(shown.scene, shown.result, look or shown.look, SLIDE)
    png, svg = (
        save(figure, Path(folder) / f"{name}.{ending}", shown.title, shown.alt)
        for ending in ("png", "svg")
    )
    return png, svg
