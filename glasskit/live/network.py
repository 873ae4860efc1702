# SPDX-License-Identifier: MIT
"""Explorer of a flat glass whose ions are swapped."""

from glasskit.draw.network import SwapScene
from glasskit.live.controls import Choice, Slider
from glasskit.live.explorer import Explorer
from glasskit.materials import ionic_radius
from glasskit.network import IONS, Swap, swap_ions
from glasskit.network.swapping import DEEPEST
from glasskit.quantities import show
from glasskit.words.network import NAMES, numbers, sentence

_SHALLOWEST = 0.5e-9  # [m], about one row of rings


def _named(ion: str) -> str:
    return f"{NAMES[ion]}, {show(ionic_radius(ion), 'atom')}"


def network_explorer() -> Explorer[Swap]:
    """Return the explorer of notebook 05: who comes in, how many, how deep, in which glass.

    Returns
    -------
    Explorer
        Choices of the incoming ion and of the glass, sliders of share and depth.

    """
    glasses = {f"piece {seed}": seed for seed in range(1, 5)}
    return Explorer(
        [
            Choice("incoming", "comes in", {_named(ion): ion for ion in IONS}, _named("K")),
            Slider("layer", "down to", "nanometre", _SHALLOWEST, DEEPEST, 2.5e-9, step=1e-10),
            Slider("fraction", "sodium ions swapped", "percent", 0.0, 1.0, 1.0, step=0.01),
            Choice("seed", "piece of glass", glasses, "piece 1"),
        ],
        swap_ions,
        SwapScene(),
        sentence,
        numbers,
        title="Swap ions and see the skin squeezed",
    )
