# SPDX-License-Identifier: MIT
"""What the planner asks: the panes, what strikes them, the shows and the targets."""

import warnings
from collections.abc import Callable, Mapping, Sequence
from typing import Any

import ipywidgets as widgets

from glasskit.demonstration import (
    DroppedBall,
    FallingPane,
    GuidedDrop,
    Place,
    Rig,
    Specimen,
    SwungHammer,
    Target,
    chemically,
    toughened,
)
from glasskit.demonstration.supply import COVER, WAYS, classes, drop_tests, glued, stated
from glasskit.impact import FLOORS, Pane
from glasskit.live.aloud import grouped
from glasskit.live.ball import SUPPORTS
from glasskit.live.controls import Choice, Control, Slider, give_say, message, set_message
from glasskit.live.panel import button, controls, placed, row, text_field
from glasskit.materials import glass, solid
from glasskit.plates import Support, plate, striker
from glasskit.quantities import OutsideValidityWarning, System

MOST_KINDS = 3
"""Kinds of pane in one plan; more cannot be told apart in the picture."""

_PANE, _SCREEN = plate("thin pane, quenched"), plate("cover glass, salt bath")
_LONGEST = 24  # characters of a name
_MEASURED = {"heat": ("squeeze",), "salt": ("squeeze", "skin")}
_SHOWN = dict.fromkeys(WAYS, ()) | {"passed": ("test",), "classed": ("level", "depth")}
_WAYS = {
    "window glass, shall break": "window",
    "toughened, by stamp or word": "stamped",
    "toughened, passes a drop test": "passed",
    "toughened, squeeze measured": "heat",
    "heat-strengthened": "half",
    "from a salt bath, class known": "classed",
    "from a salt bath, squeeze measured": "salt",
    "cover glass of a screen": "cover",
    "cover glass, plain, shall break": "cover plain",
    "laminated": "laminated",
}
_GLUED = "glued to a display all over"
_LIES: dict[str, Support | None] = {**SUPPORTS, _GLUED: None}
_RIGS = {
    "a steel ball falls on it": "ball",
    "a hammer swings at it": "hammer",
    "the pane itself falls flat": "flat",
    "a device falls, screen first": "device",
}
_SAY = {  # which controls have a say
    "ball": ("mass", "lies"),
    "hammer": ("mass", "face", "lies"),
    "flat": ("slap",),
    "device": ("mass", "floor", "long", "wide"),
}


class Asked:
    """A group of controls under a heading.

    Parameters
    ----------
    heading : str
        What the group is about.
    asked : sequence of Control
        In reading order.

    Attributes
    ----------
    controls : dict
        By name.
    note : HTML
        What is wrong with the group as a whole.
    widget : VBox
        Heading, controls and note.

    """

    def __init__(self, heading: str, asked: Sequence[Control]) -> None:
        self.controls = {control.name: control for control in asked}
        self.note = message()
        panel = controls(control.widget for control in asked)
        self.heading = widgets.HTML(f"<strong>{heading}</strong>")
        self.widget: Any = widgets.VBox([self.heading, panel, self.note])
        grouped(self.widget)

    def __getitem__(self, name: str) -> Any:
        """Return what a control holds; what was typed and refused is refused here too."""
        control = self.controls[name]
        if control.refusal:
            raise ValueError(control.refusal)
        return control.value

    def give_say(
        self, choice: str, among: Sequence[str], having: Mapping[str, Sequence[str]]
    ) -> None:
        """Show only those of some controls that have a say in a choice."""
        found: Any = self.controls
        give_say(found[choice], [found[name] for name in among], having.__getitem__)

        def hide() -> None:
            for name in among:
                has_a_say = name in having[self[choice]]
                self.controls[name].widget.layout.display = "" if has_a_say else "none"

        found[choice].on_change(hide)
        hide()

    def use(self, system: System) -> None:
        """Show the same values in other units."""
        for control in self.controls.values():
            control.use(system)

    def on_change(self, callback: Callable[[], None]) -> None:
        """Call `callback` whenever one of them has changed."""
        for control in self.controls.values():
            control.on_change(callback)


class _Name(Control):
    """A control that holds what the reader calls a kind of pane; a reset keeps it."""

    def __init__(self, start: str) -> None:
        super().__init__("name")
        self.box, self.note = text_field("name", start), message()
        self.widget = placed(self.box, self.note)
        self.box.observe(lambda _: self._tell(), "value")

    @property
    def value(self) -> str:
        """The name, without blanks around it."""
        return " ".join(self.box.value.split())


class KindForm(Asked):
    """One kind of pane: name, how the glass is described, thickness, panes at hand."""

    def __init__(self, name: str, way: str) -> None:
        words = {value: text for text, value in _WAYS.items()}
        levels, depths = classes("surface_compression"), classes("case_depth")
        tests = drop_tests()
        least, most = COVER[0], 12e-3
        super().__init__(
            "A kind of pane",
            [
                _Name(name),
                Choice("way", "glass", _WAYS, words[way]),
                Slider(
                    "thickness",
                    "thickness",
                    "thickness",
                    least,
                    most,
                    _PANE["thickness"],
                    0.1e-3,
                ),
                Slider("squeeze", "squeeze at surface", "stress", 20e6, 900e6, 100e6, 10e6),
                Slider("skin", "depth of squeeze", "depth", 5e-6, 100e-6, 20e-6, 1e-6),
                Choice("test", "drop test", {one: one for one in tests}, tests[0]),
                Choice("level", "class of squeeze", {one: one for one in levels}, levels[2]),
                Choice("depth", "class of depth", {one: one for one in depths}, depths[0]),
                Slider("have", "panes you can bring", "number", 1, 60, 10, 1),
            ],
        )
        self.give_say("way", ("squeeze", "skin", "test", "level", "depth"), _MEASURED | _SHOWN)
        self.controls["way"].on_change(self._be_thin)

    def _be_thin(self) -> None:
        """Start from a usual thickness where none so far is one of cover glass."""
        thickness: Any = self.controls["thickness"]
        if self["way"].startswith("cover") and not COVER[0] <= thickness.value <= COVER[1]:
            thickness.value = _SCREEN["thickness"]

    def be_a_screen(self, on: bool, shall_break: bool) -> None:
        """Start from the screen of a device, or from a pane again."""
        thickness, menu = self.controls["thickness"], self.controls["way"]
        plain, squeezed = ("cover plain", "cover") if on else ("window", "stamped")
        assert isinstance(thickness, Slider)
        assert isinstance(menu, Choice)
        thickness.value = _SCREEN["thickness"] if on else _PANE["thickness"]
        menu.menu.index = list(_WAYS.values()).index(plain if shall_break else squeezed)

    def specimen(self, length: float, width: float, support: Support | None) -> Specimen:
        """Return the kind, glued if nothing supports it, or say what is wrong beside it.

        Raises
        ------
        ValueError
            If the name is empty, too long or holds a #, or the layer too deep for the pane.

        """
        name = self["name"]
        lies = support or next(iter(SUPPORTS.values()))
        pane = Pane(
            length=length,
            width=width,
            thickness=self["thickness"],
            glass=glass(WAYS.get(self["way"], "soda-lime")),
            support_stiffness=2 * (length + width) * lies.bedding,
            damping=lies.damping,
        )
        place: Any = self.controls["name"]
        set_message(place.note, "")
        set_message(self.note, "")
        if not name or "#" in name or len(name) > _LONGEST:
            rule = f"name must have 1 to {_LONGEST} letters and no #; got “{name}”"
            set_message(place.note, rule)
            raise ValueError(rule)
        with warnings.catch_warnings(record=True) as doubts:
            warnings.simplefilter("always", OutsideValidityWarning)
            try:
                made = self._made(name, pane)
                made = made if support else glued(made)
            except ValueError as refusal:
                set_message(self.note, str(refusal))
                raise
        if doubts:
            set_message(self.note, str(doubts[-1].message))
        return made

    def _made(self, name: str, pane: Pane) -> Specimen:
        way = self["way"]
        if way == "heat":
            _PANE.squeezed(self["squeeze"])  # doubts what no quench leaves
            return toughened(name, pane, self["squeeze"])
        if way == "salt":
            return chemically(name, pane, self["squeeze"], self["skin"])
        told = {what: self[what] for what in ("test", "level", "depth")}
        return stated(name, pane, way, **told)


class PanesForm:
    """Size and support of all panes, and up to `MOST_KINDS` kinds."""

    def __init__(self, changed: Callable[[], None]) -> None:
        self._changed = changed
        self.size = Asked(
            "All panes",
            [
                Slider("length", "length", "length", 0.05, 1.0, 0.3, 0.01),
                Slider("width", "width", "length", 0.05, 1.0, 0.3, 0.01),
                Choice("support", "edges lie on", _LIES, next(iter(_LIES))),
            ],
        )
        self.size.on_change(changed)
        self.kinds: list[KindForm] = []
        self._rows = widgets.VBox()
        self.more = button(
            "One more kind of pane", lambda: self.add(f"kind {len(self.kinds) + 1}", "stamped")
        )
        self.less = button("One kind less", self.drop)
        self.widget = widgets.VBox([self.size.widget, self._rows, row(self.more, self.less)])
        self.system: System = "metric"
        self.add("ordinary", "window")
        self.add("toughened", "stamped")

    def add(self, name: str, way: str) -> None:
        """Put in one more kind, if there is room."""
        if len(self.kinds) < MOST_KINDS:
            kind = KindForm(name, way)
            kind.use(self.system)
            kind.on_change(self._changed)
            self._set([*self.kinds, kind])

    def drop(self) -> None:
        """Take out the last kind; one always stays."""
        if len(self.kinds) > 1:
            self._set(self.kinds[:-1])

    def _set(self, kinds: list[KindForm]) -> None:
        self.kinds = kinds
        for number, kind in enumerate(kinds, 1):
            kind.heading.value = f"<strong>Kind of pane {number}</strong>"
        self._rows.children = [kind.widget for kind in kinds]
        self.more.disabled = len(kinds) == MOST_KINDS
        self.less.disabled = len(kinds) == 1
        self._changed()

    def use(self, system: System) -> None:
        """Show the same values in other units."""
        self.system = system
        for group in (self.size, *self.kinds):
            group.use(system)

    def be_screens(self, on: bool) -> None:
        """Ask for screens of a device, whose size is asked for with the device."""
        self.size.widget.layout.display = "none" if on else ""
        for at, kind in enumerate(self.kinds):
            kind.be_a_screen(on, at == 0)

    def have(self) -> list[int]:
        """Return how many panes of each kind the reader can bring."""
        return [round(kind["have"]) for kind in self.kinds]

    def panes(self, device: tuple[float, float] | None = None) -> list[Specimen]:
        """Return the kinds, of their own size or of that of a device [m].

        Raises
        ------
        ValueError
            If one is refused, which is said beside it, or two share a name.

        """
        support = self.size["support"]
        if device:  # its screen is glued, as the judged cases of a landing know
            support = next(iter(SUPPORTS.values()))
        length, width = device or (self.size["length"], self.size["width"])
        made = [kind.specimen(length, width, support) for kind in self.kinds]
        names = [item.name for item in made]
        for kind, name in zip(self.kinds, names, strict=True):
            if names.count(name) > 1:
                place: Any = kind.controls["name"]
                set_message(place.note, f"two kinds are called “{name}”")
                raise ValueError(f"every kind needs a name of its own; got “{name}” twice")
        return made


class RigForm(Asked):
    """What strikes, with the sliders that have a say."""

    def __init__(self) -> None:
        floors = {floor: floor for floor in FLOORS}
        ball, device = striker("steel ball")["mass"], striker("device")
        super().__init__(
            "The rig",
            [
                Choice("rig", "what happens", _RIGS, next(iter(_RIGS))),
                Slider("mass", "mass", "small_mass", 0.02, 5.0, ball, log=True),
                Slider("face", "face rounded to", "length", 5e-3, 0.2, 0.02, log=True),
                Slider(
                    "slap", "slap of the landing (1 = flat)", "number", 0.05, 2.0, 1.0, 0.05
                ),
                Choice("floor", "floor", floors, "concrete"),
                Slider("long", "length of the device", "length", 0.05, 0.5, device["length"]),
                Slider("wide", "width of the device", "length", 0.03, 0.5, device["width"]),
                Slider("lies", "pane above the floor", "height", 0.0, 1.2, 0.3, 0.05),
                Slider("highest", "highest release", "height", 1.0, 6.0, 2.8, 0.1),
            ],
        )
        self.give_say("rig", tuple(set().union(*_SAY.values())), _SAY)

    @property
    def device(self) -> tuple[float, float] | None:
        """Length and width of the device [m]; None if none falls."""
        return (self["long"], self["wide"]) if self["rig"] == "device" else None

    def place(self) -> Place:
        """Return where the pane lies and how high the rig lets go.

        Raises
        ------
        ValueError
            If nothing can fall between the two, which is said below.

        """
        set_message(self.note, "")
        try:
            return Place(pane_height=self["lies"], highest=self["highest"])
        except ValueError as refusal:
            set_message(self.note, str(refusal))
            raise

    def rig(self) -> Rig:
        """Return the rig."""
        kind, steel = self["rig"], solid("steel")
        if kind == "ball":
            return DroppedBall(mass=self["mass"], solid=steel)
        if kind == "hammer":
            return SwungHammer(mass=self["mass"], face_radius=self["face"], solid=steel)
        if kind == "flat":
            return FallingPane(slap=self["slap"])
        return GuidedDrop(
            mass=self["mass"], floor=self["floor"], glass=glass("aluminosilicate")
        )


class TargetForm(Asked):
    """How many shows, and how surely."""

    def __init__(self) -> None:
        super().__init__(
            "The shows and the targets",
            [
                Slider("shows", "shows", "number", 1, 50, 6, 1),
                Slider("breaks", "of the ordinary break", "percent", 0.5, 0.98, 0.8, 0.01),
                Slider("holds", "of the others survive", "percent", 0.5, 0.98, 0.8, 0.01),
                Slider("sure", "sure of enough panes", "percent", 0.5, 0.99, 0.9, 0.01),
            ],
        )

    def shows(self) -> int:
        """Return the number of shows."""
        count: float = self["shows"]
        return round(count)

    def target(self) -> Target:
        """Return the target."""
        return Target(
            break_share=self["breaks"], survive_share=self["holds"], confidence=self["sure"]
        )
