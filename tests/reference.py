# SPDX-License-Identifier: MIT
"""Write the list of all public names anew, from the faces of the topics.

    python tests/reference.py

One line a name: how it is called, and the first line of its docstring. The rest is asked for
where it is needed: ``help(crack.breaking_stress)``.
"""

import inspect
import sys
from pathlib import Path

import glasskit

ROOT = Path(__file__).resolve().parents[1]
PAGE = ROOT / "assets/reference.md"
LEFT_OUT = type("LeftOut", (), {"__repr__": lambda self: "…"})()
HEAD = """\
# Names of glasskit

What each topic shows, in SI units throughout. `from glasskit import crack` gives a topic,
`help(crack.breaking_stress)` the rest about a name: units, limits, sources, an example.
Written by `python tests/reference.py`.
"""


def page():
    """Return the page as text."""
    parts = [HEAD]
    for topic in dir(glasskit):
        if hasattr(face := getattr(glasskit, topic), "__all__"):
            lines = [entry(topic, name, getattr(face, name)) for name in face.__all__]
            parts.append(f"## {topic}\n\n{summary(face)}\n\n" + "\n".join(lines) + "\n")
    return "\n".join(parts)


def entry(topic, name, thing):
    """Return the line of one name, with a link to the file that holds it."""
    where = sys.modules.get(getattr(thing, "__module__", ""))
    if not (callable(thing) and where and where.__name__.startswith("glasskit.")):
        return f"- `{name}`: a constant, a table or the name of a type"
    path = Path(inspect.getfile(where)).resolve().relative_to(ROOT).as_posix()
    return f"- [`{name}{call(thing)}`](../{path}): {summary(thing)}"


def call(thing):
    """Return the arguments of a call, without types and without the values left out."""
    if isinstance(thing, type) and (issubclass(thing, Exception) or is_protocol(thing)):
        return ""
    signature = inspect.signature(thing)
    bare = [
        each.replace(
            annotation=each.empty,
            default=each.default if each.default is each.empty else LEFT_OUT,
        )
        for each in signature.parameters.values()
    ]
    return str(inspect.Signature(bare))


def is_protocol(thing):
    return getattr(thing, "_is_protocol", False)


def summary(thing):
    """Return the first line of a docstring."""
    return (inspect.getdoc(thing) or "").partition("\n")[0]


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
    print(PAGE)
