# SPDX-License-Identifier: MIT
"""A spring that stretches: the smallest explorer, for tests of the explorers' machinery."""

import time
from dataclasses import dataclass

import numpy as np

from glasskit.draw.scene import Scene
from glasskit.live.controls import Choice, Slider
from glasskit.live.explorer import Explorer
from glasskit.live.predict import Prediction
from glasskit.quantities import show

STIFFNESS = {"soft": 20.0, "stiff": 60.0}  # [N/m], invented
pause = 0.0  # [s], for tests of what takes long


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A hanging spring."""

    force: float
    stiffness: float
    length: float


def stretch(force, stiffness):
    time.sleep(pause)
    if force > 9:
        raise ValueError(f"force must be at most 9 N, for the hook opens; got {force:g} N")
    return Stretch(force=force, stiffness=stiffness, length=0.1 + force / stiffness)


class SpringScene(Scene[Stretch]):
    def build(self, figure, look, result):
        thing, curve = figure.subplots(1, 2, width_ratios=(1, 2))
        thing.set_axis_off()
        thing.set(xlim=(-1, 1), ylim=look.shown([0.65, -0.05], "height"))
        thing.plot([-0.8, 0.8], [0, 0], color="#1A1A1A", linewidth=4)
        thing.text(0, 0, "ceiling\n", ha="center", va="bottom")
        (self.wire,) = thing.plot([], [], color="#1A1A1A")
        self.word = thing.text(0.5, 0, "weight")
        force = np.array([0.0, 10.0])
        length = 0.1 + force / result.stiffness
        curve.plot(look.shown(force, "force"), look.shown(length, "height"), color="#0072B2")
        curve.set(
            xlabel=look.label("force", "force"),
            ylabel=look.label("length", "height"),
            ylim=look.shown([0, 0.65], "height"),
        )
        (self.dot,) = curve.plot([], [], "o", color="#D55E00", markersize=14)
        return [self.wire, self.word, self.dot]

    def update(self, result, look):
        length = look.shown(result.length, "height")
        turns = np.linspace(0, 1, 41)
        self.wire.set_data(0.3 * np.sin(20 * np.pi * turns + np.pi / 4), turns * length)
        self.word.set_y(length)
        self.dot.set_data([look.shown(result.force, "force")], [length])

    def frame(self, result, look):
        return result.stiffness


def sentence(result, system):
    force, length = show(result.force, "force", system), show(result.length, "height", system)
    return f"Pulled with {force} the spring is {length} long."


def numbers(result, system):
    return [
        ("force", show(result.force, "force", system)),
        ("length of the spring", show(result.length, "height", system)),
    ]


def spring_explorer():
    return Explorer(
        [
            Slider("force", "pull on the spring", "force", 0.0, 10.0, 2.0, step=0.1),
            Choice("stiffness", "spring", STIFFNESS, "stiff"),
        ],
        stretch,
        SpringScene(),
        sentence,
        numbers,
        title="A spring that stretches",
    )


def predicted_spring():
    asked = Prediction(
        "Twice the weight: how much further does the spring stretch?",
        [
            ("Twice as far", "The stretch grows in step with the pull."),
            ("Four times as far", "That is the energy: it grows with the square of the pull."),
            ("Just as far", "That would be a rod that gives way at one load."),
        ],
        0,
        spring_explorer(),
    )
    # Between the two messages that an answer sends: on a busy machine they lie apart.
    asked.skip.layout.observe(lambda _: time.sleep(pause), "display")
    return asked
