# SPDX-License-Identifier: MIT
"""Pages of plain forms: what the break log by telephone and the answers of a class share.

They work without scripts, take small forms only, count what comes too often, and show a
sentence for all that is refused.
"""

import asyncio
import logging
import os
import secrets
import time
from abc import abstractmethod
from collections.abc import Callable, Sequence
from typing import Any

from tornado.httpserver import HTTPServer
from tornado.web import Application, HTTPError, RequestHandler

from glasskit.room.door import LESSON, Room, address_of
from glasskit.room.seats import Seats, TooSoon

SEAT = "seat-01"
"""The only one where a single person comes in with a word."""

LARGEST = 4096
"""Bytes of a form."""

POLICY = (
    "default-src 'none'; style-src 'unsafe-inline'; form-action 'self'; "
    "frame-ancestors 'none'; base-uri 'none'"
)
"""What a browser may load for such a page: nothing from elsewhere, and no script."""

_LESSON_DAYS = LESSON / (24 * 3600)
_TOO_OFTEN = "too many requests: nothing was stored, wait a minute and send it again"
_NOT_UNDERSTOOD = (
    "that was no form of this page, or too old a one, or this browser keeps no cookies: "
    "nothing was stored"
)


class Pace:
    """Counts the requests of each who sends them.

    Parameters
    ----------
    clock : callable
        Returns the time [s].

    """

    def __init__(self, clock: Callable[[], float]) -> None:
        self._clock = clock
        self._seen: dict[str, list[float]] = {}

    def allows(self, who: str, per_minute: int) -> bool:
        """Say whether this request may pass; one that may not is not counted.

        Parameters
        ----------
        who : str
            An address, or whoever has come in.
        per_minute : int
            Requests that may pass.

        """
        since = self._clock() - 60.0
        late = {who: [at for at in times if at > since] for who, times in self._seen.items()}
        self._seen = {who: times for who, times in late.items() if times}
        times = self._seen.setdefault(who, [])
        if len(times) >= per_minute:
            return False
        times.append(self._clock())
        return True


class FormPage(RequestHandler):
    """A page of forms: what it may load, who has come in, and what is said to the others."""

    cookie: str
    samesite = "Strict"
    policy = POLICY
    room: Room
    pace: Pace

    def initialize(self, **shared: Any) -> None:
        """Take what all requests share, each under its name."""
        self.__dict__.update(shared)

    def set_default_headers(self) -> None:
        """Keep nothing, and load nothing from elsewhere."""
        self.set_header("Content-Security-Policy", self.policy)
        self.set_header("Cache-Control", "no-store")  # going back asks for a form anew
        self.set_header("X-Content-Type-Options", "nosniff")
        self.set_header("Referrer-Policy", "no-referrer")

    def prepare(self) -> None:
        """Refuse what comes too often."""
        if not self.pace.allows(*self.counted()):
            raise HTTPError(429)

    @abstractmethod
    def counted(self) -> tuple[str, int]:
        """Return who sends this request, and how many a minute may pass."""

    @abstractmethod
    def say(self, status: int, wrong: str) -> None:
        """Show the page with a sentence about what was refused."""

    @property
    def address(self) -> str:
        """Where the request comes from."""
        return address_of(self.request, self.room)

    @property
    def cookie_name(self) -> str:
        """Name of the cookie: other ports of this machine share its cookies."""
        return f"{self.cookie}-{self.room.port}"

    def get_current_user(self) -> Any:
        """Return what was given to whoever has come in."""
        token = self.get_signed_cookie(self.cookie_name, max_age_days=_LESSON_DAYS)
        return token and token.decode()

    def let_in(self, token: str = "") -> None:
        """Give a cookie for one lesson, in place of a name."""
        self.set_signed_cookie(
            self.cookie_name,
            token or secrets.token_urlsafe(8),
            expires_days=_LESSON_DAYS,
            **{**_strict(self.room), "samesite": self.samesite},
        )

    def write_error(self, status_code: int, **_: Any) -> None:
        """Say why a request was refused."""
        self.say(status_code, _TOO_OFTEN if status_code == 429 else _NOT_UNDERSTOOD)


class WordDoor(FormPage):
    """Spends the word of the one seat."""

    home = "/"
    what: str
    seats: Seats

    def post(self) -> None:
        """Let in whoever has the word."""
        try:
            if not self.seats.admit(SEAT, self.get_body_argument("word", ""), self.address):
                self.say(401, f"that word does not open {self.what}")
                return
        except TooSoon as wait:
            self.say(429, str(wait))
            return
        self.let_in()
        self.redirect(self.home, status=303)


def sentence(text: str) -> str:
    """Return a message as a sentence of its own; nothing stays nothing."""
    stop = "" if text.endswith((".", "?", "!")) else "."
    return text and f"{text[:1].upper()}{text[1:]}{stop}"


def _strict(room: Room) -> dict[str, Any]:
    return {"secure": room.encrypted, "httponly": True, "samesite": "Strict"}


def form_application(
    room: Room,
    pages: Sequence[tuple[str, type[FormPage]]],
    own: dict[str, Any],
    clock: Callable[[], float] = time.monotonic,
) -> Application:
    """Return what answers browsers.

    Parameters
    ----------
    room : Room
        Where.
    pages : sequence of (str, type)
        Paths and their pages.
    own : dict
        What all of them take beside room and pace.
    clock : callable, optional
        Returns the time [s].

    """
    shared = {"room": room, "pace": Pace(clock), **own}
    return Application(
        [(path, page, shared) for path, page in pages],
        template_path=os.path.dirname(__file__),
        cookie_secret=os.urandom(32),  # log-ins of before count no more
        xsrf_cookies=True,
        # JupyterLab on this machine has an _xsrf of its own, and ports share their cookies.
        xsrf_cookie_name=f"xsrf-{room.port}",
        xsrf_cookie_kwargs={**_strict(room), "expires_days": _LESSON_DAYS},
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


async def listen(answering: Application, room: Room) -> None:
    """Answer browsers until the task is cancelled; whom it refuses is written nowhere."""
    for name in ("tornado.access", "tornado.general"):
        logging.getLogger(name).setLevel(logging.ERROR)
    server(answering).listen(room.port, room.host)
    await asyncio.Event().wait()
