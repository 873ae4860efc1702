# SPDX-License-Identifier: MIT
"""The break log on a telephone: one page, plain forms, for whoever enters the blows.

It writes as the form of the planner's page does, so both may be open. Each form carries a
token that stores one blow and no second, however often a browser sends it.
"""

import asyncio
import secrets
import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field, fields
from datetime import date
from typing import Any

from tornado.web import Application, HTTPError

from glasskit.demonstration import Entry, Log, read_log
from glasskit.demonstration.breaklog import add, entry_as_typed
from glasskit.room.door import Room
from glasskit.room.forms import FormPage, WordDoor, form_application, listen, sentence
from glasskit.room.seats import Seats
from glasskit.tables import standing
from glasskit.words.demonstration import blow_words, log_sentences

PER_MINUTE = 40
"""Requests from one address: a blow is three of them."""

_AT_FIRST = ("ordinary", "toughened")  # as the planner's page names its panes at the start


@dataclass(kw_only=True)
class _Form:
    """What is filled in, kept as typed whatever becomes of it."""

    once: str = field(default_factory=lambda: secrets.token_urlsafe(16))
    pane: str = ""
    other: str = ""
    number: str = ""
    height: str = ""
    went: str = ""

    def entry(self) -> Entry:
        """Return the blow, or raise ValueError."""
        if not (pane := self.other.strip() or self.pane):
            raise ValueError("say which pane it was")
        return entry_as_typed(
            day=date.today().isoformat(),
            pane=pane,
            number=self.number,
            height=self.height,
            broke={"broke": True, "held": False}.get(self.went),
        )

    def following(self, entry: Entry) -> "_Form":
        """Return the form for the next blow: pane and height stay, what it did does not."""
        number = "" if entry.broke else self.number  # a broken pane is not struck again
        return _Form(pane=entry.kind, number=number, height=self.height)


@dataclass(kw_only=True)
class _Sent:
    """A form whose blow is in the log."""

    form: _Form
    entry: Entry
    taken_back: bool = False

    @property
    def once(self) -> str:
        return self.form.once


class _Page(FormPage):
    """The one page: the door for whoever has not come in, else form and log."""

    cookie = "log"
    seats: Seats
    sent: dict[str, _Sent]

    def counted(self) -> tuple[str, int]:
        return self.address, PER_MINUTE

    def say(self, status: int, wrong: str) -> None:
        form = self.filled_in() if status == 429 else _Form()
        self.show(form if self.current_user else None, status, wrong)

    def get(self) -> None:
        if not self.current_user:
            self.show(None)
            return
        sent = self.sent.get(self.get_query_argument("sent", ""))
        self.show(sent.form.following(sent.entry) if sent else _Form(), sent=sent)

    def post(self) -> None:
        if not self.come_in():
            return
        form = self.filled_in()
        if not form.once:
            raise HTTPError(400)
        if (sent := self.sent.get(form.once)) and sent.form == form:
            self.redirect(f"/?sent={form.once}", status=303)
            return
        if sent:
            form.once = _Form().once
            said = f"this form was sent before and stored {blow_words(sent.entry)}"
            self.show(form, 409, f"{said}: if this is another blow, send it again")
            return
        try:
            entry = form.entry()
            add(self.room.log, entry)
        except ValueError as refusal:
            self.show(form, 400, str(refusal))
        except OSError as fault:
            self.show(form, 503, f"the log cannot be written: {fault.strerror or fault}")
        else:
            self.sent[form.once] = _Sent(form=form, entry=entry)
            self.redirect(f"/?sent={form.once}", status=303)

    def filled_in(self) -> _Form:
        """Return the form as it was sent."""
        return _Form(
            **{one.name: self.get_body_argument(one.name, "") for one in fields(_Form)}
        )

    def come_in(self) -> bool:
        """Say whether a form comes from whoever has come in; else show the door."""
        if not self.current_user:
            self.show(None, 403, "nothing was stored, for the log-in has ended: come in again")
        return bool(self.current_user)

    def show(
        self, form: _Form | None, status: int = 200, wrong: str = "", sent: _Sent | None = None
    ) -> None:
        """Show a form with what is filled in, or the door, and a sentence about it."""
        log = Log(entries=(), troubles=())
        if form:
            try:
                log = read_log(self.room.log)
            except OSError as fault:
                wrong = wrong or f"the log cannot be read: {fault.strerror or fault}"
        names = list(dict.fromkeys(entry.kind for entry in log.entries))
        self.set_status(status)
        self.render(
            "telephone.html",
            form=form,
            sent=sent,
            wrong=sentence(wrong),
            names=_AT_FIRST if set(names) <= set(_AT_FIRST) else names,
            sentences=log_sentences(log, names),
            words=blow_words,
            live_pane=standing("live pane"),
        )


class _TakeBack(_Page):
    """Takes back what was stored last; a line of its own says so."""

    def get(self) -> None:
        self.redirect("/")

    def post(self) -> None:
        if not self.come_in():
            return
        sent = self.sent.get(self.get_body_argument("once", ""))
        if sent is None:
            self.show(_Form(), 400, "that blow was not entered here: correct it on page 20")
            return
        try:
            if not sent.taken_back:
                add(self.room.log, instead_of=[sent.entry])
                sent.taken_back = True
        except ValueError as refusal:
            self.show(sent.form.following(sent.entry), 409, str(refusal))
        except OSError as fault:
            said = f"the log cannot be written: {fault.strerror or fault}"
            self.show(sent.form.following(sent.entry), 503, said, sent)
        else:
            self.redirect(f"/?sent={sent.once}", status=303)


class _Login(WordDoor, _Page):
    """Lets in whoever enters the blows."""

    what = "the log"


def application(
    room: Room, seats: Seats, clock: Callable[[], float] = time.monotonic
) -> Application:
    """Return what answers a telephone.

    Parameters
    ----------
    room : Room
        Where, and which log.
    seats : Seats
        One seat, whose words let in.
    clock : callable, optional
        Returns the time [s].

    """
    own: dict[str, Any] = {"seats": seats, "sent": {}}
    pages = (("/", _Page), ("/take-back", _TakeBack), ("/login", _Login))
    return form_application(room, pages, own, clock)


def serve(room: Room, seats: Seats) -> None:
    """Serve the log until it is stopped.

    Parameters
    ----------
    room : Room
        Where, and which log.
    seats : Seats
        One seat, whose words let in.

    """
    with suppress(KeyboardInterrupt):
        asyncio.run(listen(application(room, seats), room))
