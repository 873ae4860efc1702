# SPDX-License-Identifier: MIT
"""A whole file or a whole report to audit: tick what may not pass, then check."""

import html
from pathlib import Path

import ipywidgets as widgets

from glasskit.live.controls import message, set_message
from glasskit.live.panel import Panel, button, framed, row
from glasskit.live.style import STYLE
from glasskit.live.week import FILE, file_result
from glasskit.training import audit
from glasskit.training.audits import AuditKind
from glasskit.words.audits import TITLES, audit_rows, audit_sentence

_STYLE = "<style>.glasskit .glasskit-file label { font-family: monospace; }</style>"


class AuditPanel(Panel):
    """Lines with a box each, and what was found, missed and blamed.

    Parameters
    ----------
    kind : {"file", "report"}
        What is audited.
    file : path
        The record of the week, which gets the first check of each audit.
    seed : int
        Number of the audit.

    Attributes
    ----------
    audit : Audit
        The one on the page.
    boxes : list of Checkbox
        One for each line.
    check, other : Button
        Say how it stands; set another one.
    reply, filed : HTML
        How it stands, line by line; what was filed.
    widget : VBox
        The whole.

    """

    def __init__(self, kind: AuditKind, file: str | Path = FILE, seed: int = 1) -> None:
        self._kind, self._file, self._seed = kind, file, seed
        self.check = button("Check", self.mark)
        self.other = button("Another one", self.next_audit)
        self.head, self.reply, self.filed = widgets.HTML(), widgets.HTML(), message()
        self._lines = widgets.VBox()
        self._lines.add_class(f"glasskit-{kind}")
        self.widget = framed(
            widgets.HTML(f"{STYLE}{_STYLE}<strong>{TITLES[kind]}</strong>"),
            *(self.head, self._lines, row(self.check, self.other), self.reply, self.filed),
        )
        self._set()

    def _set(self) -> None:
        self.audit = audit(self._kind, self._seed)
        self.head.value = (
            f"<p>Audit {self._seed}, invented. Some hold nothing wrong.</p>"
            f"<p><code>{html.escape(self.audit.head)}</code></p>"
        )
        self.boxes = [
            widgets.Checkbox(description=f"{number}: {line}", indent=False)
            for number, line in enumerate(self.audit.lines, start=1)
        ]
        for box in self.boxes:
            box.layout.width = "100%"
        self._lines.children = self.boxes
        self.reply.value, self._checked = "", False
        set_message(self.filed, "")

    def mark(self) -> None:
        """Say what was found, missed and blamed; the first check is filed."""
        marked = self.audit.mark([at for at, box in enumerate(self.boxes) if box.value])
        said = audit_sentence(self.audit, marked)
        rows = "".join(
            f'<tr><th scope="row">line {place + 1}</th><td>{html.escape(words)}</td></tr>'
            for place, words in audit_rows(self.audit, marked)
        )
        self.reply.value = (
            f'<div role="status"><strong>{html.escape(said)}</strong></div>'
            f'<table class="glasskit-numbers">{rows}</table>'
        )
        if not self._checked:
            self._checked = True
            file_result(self._file, self._kind, f"audit {self._seed}: {said}", self.filed)

    def next_audit(self) -> None:
        """Set another one."""
        self._seed += 1
        self._set()


def audit_panel(kind: AuditKind, file: str | Path = FILE, seed: int = 1) -> AuditPanel:
    """Return a panel of notebook 42: a file or a report to audit."""
    return AuditPanel(kind, file, seed)
