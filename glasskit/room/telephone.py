# SPDX-License-Identifier: MIT
"""The break log on a telephone: one page, plain forms, for whoever enters the blows.

It writes as the form of the planner's page does, so both may be open. Each form carries a
token that stores one blow and no second, however often a browser sends it.
"""

import asyncio
import os
import secrets
import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field, fields
from datetime import date
from typing import Any

from tornado.httpserver import HTTPServer
from tornado.web import Application, HTTPError, RequestHandler

from glasskit.demonstration import Entry, Log, read_log
from glasskit.demonstration.breaklog import add, entry_as_typed
from glasskit.room.door import LESSON, Room, address_of
from glasskit.room.seats import Seats, TooSoon
from glasskit.tables import standing
from glasskit.words.demonstration import blow_words, log_sentences

SEAT = "seat-01"
"""The only one: whoever enters the blows."""

PER_MINUTE = 40
"""Requests from one address: a blow is three of them."""

LARGEST = 4096
"""Bytes of a form."""

_AT_FIRST = ("ordinary", "toughened")  # as the planner's page names its panes at the start
_LESSON_DAYS = LESSON / (24 * 3600)
_POLICY = (
    "default-src 'none'; style-src 'unsafe-inline'; form-action 'self'; "
    "frame-ancestors 'none'; base-uri 'none'"
)
_TOO_OFTEN = "too many requests: nothing was stored, wait a minute and send it again"
_NOT_UNDERSTOOD = "that was no form of this page, or too old a one: nothing was stored"


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


class _Pace:
    """Counts the requests of each address."""

    def __init__(self, clock: Callable[[], float]) -> None:
        self._clock = clock
        self._seen: dict[str, list[float]] = {}

    def allows(self, address: str) -> bool:
        """Say whether this request may pass; one that may not is not counted."""
        since = self._clock() - 60.0
        late = {who: [at for at in times if at > since] for who, times in self._seen.items()}
        self._seen = {who: times for who, times in late.items() if times}
        times = self._seen.setdefault(address, [])
        if len(times) >= PER_MINUTE:
            return False
        times.append(self._clock())
        return True


class _Page(RequestHandler):
    """The one page: the door for whoever has not come in, else form and log."""

    def initialize(
        self, room: Room, seats: Seats, pace: _Pace, sent: dict[str, _Sent]
    ) -> None:
        self.room, self.seats, self.pace, self.sent = room, seats, pace, sent

    def set_default_headers(self) -> None:
        self.set_header("Content-Security-Policy", _POLICY)
        self.set_header("Cache-Control", "no-store")  # going back asks for a form anew
        self.set_header("X-Content-Type-Options", "nosniff")
        self.set_header("Referrer-Policy", "no-referrer")

    def prepare(self) -> None:
        if not self.pace.allows(address_of(self.request, self.room)):
            raise HTTPError(429)

    def get_current_user(self) -> Any:
        return self.get_signed_cookie("log", max_age_days=_LESSON_DAYS)

    def write_error(self, status_code: int, **_: Any) -> None:
        often = status_code == 429
        form = self.filled_in() if often else _Form()
        wrong = _TOO_OFTEN if often else _NOT_UNDERSTOOD
        self.show(form if self.current_user else None, status_code, wrong)

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
            wrong=wrong and f"{wrong[:1].upper()}{wrong[1:].rstrip('.')}.",
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


class _Login(_Page):
    """Spends the word."""

    def post(self) -> None:
        try:
            address = address_of(self.request, self.room)
            if not self.seats.admit(SEAT, self.get_body_argument("word", ""), address):
                self.show(None, 401, "that word does not open the log")
                return
        except TooSoon as wait:
            self.show(None, 429, str(wait))
            return
        self.set_signed_cookie(
            "log",
            secrets.token_urlsafe(8),
            expires_days=_LESSON_DAYS,
            secure=self.room.encrypted,
            httponly=True,
            samesite="Strict",
        )
        self.redirect("/", status=303)


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
    shared = {"room": room, "seats": seats, "pace": _Pace(clock), "sent": {}}
    pages = (("/", _Page), ("/take-back", _TakeBack), ("/login", _Login))
    return Application(
        [(path, page, shared) for path, page in pages],
        template_path=os.path.dirname(__file__),
        cookie_secret=os.urandom(32),  # log-ins of before count no more
        xsrf_cookies=True,
        xsrf_cookie_kwargs={
            "secure": room.encrypted,
            "httponly": True,
            "samesite": "Strict",
            "expires_days": _LESSON_DAYS,
        },
    )


def server(answering: Application) -> HTTPServer:
    """Return a server that takes small forms only and waits for nobody."""
    return HTTPServer(
        answering,
        max_body_size=LARGEST,
        max_header_size=4 * LARGEST,
        body_timeout=10.0,
        idle_connection_timeout=60.0,
    )


def serve(room: Room, seats: Seats) -> None:
    """Serve the log until it is stopped.

    Parameters
    ----------
    room : Room
        Where, and which log.
    seats : Seats
        One seat, whose words let in.

    """

    async def forever() -> None:
        server(application(room, seats)).listen(room.port, room.host)
        await asyncio.Event().wait()

    with suppress(KeyboardInterrupt):
        asyncio.run(forever())
