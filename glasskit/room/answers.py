# SPDX-License-Identifier: MIT
"""A class answers, each on the own screen: without names, without accounts, for one lesson.

Pupils come in with a code that all of them share and get a word drawn by chance, kept by
their browser for the lesson. The teacher has a desk: at its own address, with a word that
works once, or on pages 30 and 31, which speak to this program through its input and output.
What was answered is in memory alone and goes with the program.
"""

import asyncio
import base64
import csv
import io
import json
import secrets
import sys
import threading
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from functools import lru_cache
from hashlib import sha256
from pathlib import Path
from typing import Any

import segno
from tornado.web import Application, HTTPError

from glasskit.classroom import Lesson, Option, Question, Tally, question
from glasskit.draw.look import Look
from glasskit.draw.picture import LivePicture
from glasskit.draw.tally import TallyScene
from glasskit.room.door import Room
from glasskit.room.forms import POLICY, FormPage, WordDoor, form_application, listen, sentence
from glasskit.room.poll import MOST_READINGS, OPEN, STICKS, Full, Poll
from glasskit.room.seats import LETTERS, Seats, TooSoon, Tries, plain, same
from glasskit.rows import safe_cell
from glasskit.tables import read
from glasskit.words.glossary import spoken
from glasskit.words.tally import letters, tally_sentence

EACH_PER_MINUTE = 60
"""Requests of a pupil: a page that looks every three seconds whether there is news has 20."""

DOOR_PER_MINUTE = 300
"""Requests of those who have not come in, from one address: a class may share one."""

_FREE_TRIES = 30  # of the code: a class may share an address
_PAUSE = 0.5  # s between two reports to a page of the kit
_SCRIPT = Path(__file__).with_name("answers.js").read_text(encoding="utf-8")
_HASH = base64.b64encode(sha256(_SCRIPT.encode()).digest()).decode()
_SAID = {
    "before": "Ask",
    "talk": "Close it: talk it over",
    "after": "Ask again",
    "told": "Tell what happens",
    "wait": "Show nothing",
}


_HEADINGS = {
    "door": "Answer on your own screen",
    "wait": "You are in",
    "before": "Question {}, before talking it over",
    "talk": "Talk it over",
    "after": "Question {}, after talking it over",
    "told": "What happens",
    "readings": "Your readings",
}


class _Shown(FormPage):
    """What the pages of pupils and desk have in common: a class, and one small script."""

    policy = f"{POLICY}; script-src 'sha256-{_HASH}'; connect-src 'self'; img-src data:"
    poll: Poll
    seats: Seats
    tries: Tries

    def draw(self, template: str, status: int, wrong: str, **more: Any) -> None:
        self.set_status(status)
        self.render(
            template,
            poll=self.poll,
            room=self.room,
            script=_SCRIPT,
            wrong=sentence(wrong),
            letters=letters(len(self.poll.question.options)),
            **more,
        )


class _Pupil(_Shown):
    """The one page of a pupil: the door, or what is asked now."""

    cookie = "pupil"
    samesite = "Lax"  # the address may stand on the school's own page

    def get_current_user(self) -> Any:
        pupil = super().get_current_user()
        return pupil if pupil in self.poll.pupils else None

    def counted(self) -> tuple[str, int]:
        pupil = self.current_user
        return (pupil, EACH_PER_MINUTE) if pupil else (self.address, DOOR_PER_MINUTE)

    def say(self, status: int, wrong: str) -> None:
        self.show(status, wrong)

    def get(self, code: str = "") -> None:
        if code and self.current_user:
            self.redirect("/")
            return
        self.show(code=code)

    def come_in(self) -> str:
        """Return the pupil; whoever has none stays outside."""
        if not (pupil := self.current_user):
            raise HTTPError(403)
        return str(pupil)

    def show(self, status: int = 200, wrong: str = "", code: str = "", **typed: Any) -> None:
        """Show what is asked now, or the door, and a sentence about it."""
        pupil = self.current_user or ""
        stage = self.poll.stage if pupil else "door"
        held = {when: self.poll.answered(pupil, when) for when in OPEN}
        sent = self.poll.readings(pupil)
        typed = {"cells": [""] * len(self.poll.columns), "sure": False, **typed}
        if sent and not any(typed["cells"]):  # the next stick: what it hangs on stays
            typed["cells"] = self.following(sent[-1].text.split("; "))
        self.draw(
            "answers.html",
            status,
            wrong,
            pupil=pupil,
            stage=stage,
            heading=_HEADINGS[stage].format(self.poll.number),
            held=held,
            sent=sent,
            once=secrets.token_urlsafe(9),
            most=MOST_READINGS,
            code=code,
            **typed,
        )

    def following(self, cells: list[str]) -> list[str]:
        """Return what the next reading most likely shares with this one."""
        kept = ("kind", "span")
        pairs = zip(self.poll.columns, cells, strict=True)
        return [cell.rstrip("!") if name.startswith(kept) else "" for name, cell in pairs]


class _ComeIn(_Pupil):
    """Asks for the code, and gives a cookie in place of a name."""

    def get(self, _: str = "") -> None:
        self.redirect("/")

    def post(self) -> None:
        code = self.get_body_argument("code", "")
        if self.current_user:
            self.redirect("/", status=303)
            return
        try:
            if self.tries.judge(self.address, lambda: same(plain(code), self.room.code)):
                self.let_in(self.poll.come_in())
                self.redirect("/", status=303)
            else:
                self.show(401, "that is not the code of this lesson")
        except TooSoon as wait:
            self.show(429, str(wait))
        except Full as full:
            self.show(503, str(full))


class _Answer(_ComeIn):
    """Counts an answer."""

    def post(self) -> None:
        pupil, sent = self.come_in(), self.get_body_argument
        try:
            self.poll.answer(pupil, sent("task", ""), sent("option", ""))
        except ValueError as refusal:
            self.show(409, str(refusal))
        else:
            self.redirect("/", status=303)


class _Reading(_ComeIn):
    """Takes a reading."""

    def post(self) -> None:
        pupil, sent = self.come_in(), self.get_body_argument
        cells = [sent(f"cell{place}", "") for place in range(len(self.poll.columns))]
        sure = bool(sent("sure", ""))
        try:
            self.poll.send(pupil, sent("once", ""), cells, sure)
        except ValueError as refusal:
            self.show(400, str(refusal), cells=cells, sure=sure)
        else:
            self.redirect("/", status=303)


class _TakeBack(_ComeIn):
    """Takes a reading back."""

    def post(self) -> None:
        self.poll.take_back(self.come_in(), self.get_body_argument("once", ""))
        self.redirect("/", status=303)


class _Now(_Pupil):
    """Says whether there is news."""

    def get(self, _: str = "") -> None:
        self.come_in()
        self.set_header("Content-Type", "text/plain")
        self.write(str(self.poll.version))


# --- the desk -------------------------------------------------------------------------------


@lru_cache(1)
def _drawn(tally: Tally) -> str:
    picture = _picture.draw(tally, Look(large=True))
    return f"data:image/png;base64,{base64.b64encode(picture).decode()}"


_picture = LivePicture(TallyScene())
_drawing = ThreadPoolExecutor(1)  # pupils do not wait for pictures


class _Desk(_Shown):
    """Where the teacher asks, sees what was answered, and goes on."""

    cookie = "desk"

    def counted(self) -> tuple[str, int]:
        return f"desk {self.address}", DOOR_PER_MINUTE

    def say(self, status: int, wrong: str) -> None:
        self.draw("desk.html", status, wrong, told="", said=_SAID, sticks=STICKS)

    async def get(self) -> None:
        told = await self.told() if self.current_user else ""
        self.draw("desk.html", 200, "", told=told, said=_SAID, sticks=STICKS)

    async def told(self) -> str:
        """Return what was answered, as HTML."""
        poll = self.poll
        if poll.stage == "readings":
            rows = [line.split("; ") for line in poll.sheet.splitlines()]
            return str(self.render_string("desk_readings.html", rows=rows).decode())
        tally = poll.tally
        loop = asyncio.get_running_loop()
        picture = await loop.run_in_executor(_drawing, _drawn, tally)
        names = letters(len(tally.before))
        shown = self.render_string(
            "desk_told.html",
            tally=tally,
            rows=zip(names, tally.question.options, tally.before, tally.after, strict=True),
            ideas={row["idea"]: row["text"] for row in read("ideas")},
            picture=picture,
            said=tally_sentence(tally),
        )
        return str(shown.decode())

    def post(self) -> None:
        if not self.current_user:
            raise HTTPError(403)
        sent = self.get_body_argument
        try:
            if sent("stage", "") == "readings":
                kinds = sent("kinds", "").replace(",", " ").split()
                self.poll.ask_for_readings(sent("sticks", ""), kinds)
            else:
                self.poll.show(sent("stage", ""), int(sent("place", "-1")))
        except ValueError as refusal:
            self.say(400, str(refusal))
        else:
            self.redirect("/desk", status=303)


class _DeskLogin(WordDoor, _Desk):
    """Lets the teacher in."""

    home = "/desk"
    what = "the desk"

    async def get(self) -> None:
        self.redirect("/desk")


class _DeskNow(_Desk):
    """Says what has been answered since."""

    async def get(self) -> None:
        if not self.current_user:
            raise HTTPError(403)
        told = await self.told()
        self.set_header("Content-Type", "text/plain; charset=utf-8")
        self.write(f"{self.poll.version}\n{self.poll.said}\n{told}")


class _DeskSave(_Desk):
    """Hands out what the teacher wants to keep; nothing else is kept."""

    async def get(self, what: str = "") -> None:
        if not self.current_user:
            raise HTTPError(403)
        text = self.poll.sheet if what == "readings" else answers_table(self.poll)
        self.set_header("Content-Type", "text/csv; charset=utf-8")
        self.set_header("Content-Disposition", f'attachment; filename="{what}.csv"')
        self.write(text.encode("utf-8-sig"))


class _Poster(_Desk):
    """Address, code and QR code for the wall, or to print."""

    async def get(self) -> None:
        if not self.current_user:
            raise HTTPError(403)
        self.draw("poster.html", 200, "", picture=invitation(self.room))


def answers_table(poll: Poll) -> str:
    """Return how often each answer was given, as CSV.

    Parameters
    ----------
    poll : Poll
        The class.

    """
    file = io.StringIO()
    write = csv.writer(file, lineterminator="\n").writerow
    write(["question", "answer", "happens", "before", "after"])
    for asked in poll.questions:
        tally = poll.tally_of(asked)
        for option, was, now in zip(asked.options, tally.before, tally.after, strict=True):
            happens = "yes" if option.correct else ""
            write([safe_cell(asked.text), safe_cell(option.text), happens, was, now])
    return file.getvalue()


def invitation(room: Room) -> str:
    """Return the QR code that leads into the room, as a data URI."""
    return str(segno.make(room.link, error="m").svg_data_uri(border=4))


# --- how it is opened -----------------------------------------------------------------------


def lesson_poll(room: Room) -> Poll:
    """Return a class with the questions of its lesson: that of the vote, then all it teaches.

    Parameters
    ----------
    room : Room
        With topic, years and number of pupils.

    """
    lesson = Lesson(topic=room.topic, age=room.age, pupils=room.seats)
    keys = dict.fromkeys([lesson.about["vote"], *lesson.taught])
    asked = [spoken(question(key), lesson.spoken_as) for key in keys]
    return Poll(size=room.seats, questions=asked)


def application(
    room: Room, seats: Seats, poll: Poll, clock: Callable[[], float] = time.monotonic
) -> Application:
    """Return what answers pupils, and the desk where no page of the kit is one.

    Parameters
    ----------
    room : Room
        Where, and the code that lets pupils in.
    seats : Seats
        One seat, whose words open the desk.
    poll : Poll
        The class.
    clock : callable, optional
        Returns the time [s].

    """
    own = {"poll": poll, "seats": seats, "tries": Tries(_FREE_TRIES, clock)}
    desk: list[tuple[str, type[FormPage]]] = [
        ("/desk", _Desk),
        ("/desk/login", _DeskLogin),
        ("/desk/now", _DeskNow),
        (r"/desk/(answers|readings)\.csv", _DeskSave),
        ("/desk/poster", _Poster),
    ]
    pupils: list[tuple[str, type[FormPage]]] = [
        ("/", _Pupil),
        ("/come-in", _ComeIn),
        ("/answer", _Answer),
        ("/reading", _Reading),
        ("/take-back", _TakeBack),
        ("/now", _Now),
        (rf"/([{LETTERS}]{{4}})", _Pupil),
    ]
    pages = pupils if room.piped else [*desk, *pupils]
    return form_application(room, pages, own, clock)


def serve(room: Room, seats: Seats) -> None:
    """Serve the class until it is stopped, or the page of the kit that asks is gone.

    Parameters
    ----------
    room : Room
        Where, and for which lesson.
    seats : Seats
        One seat, whose words open the desk.

    """
    poll = lesson_poll(room)
    opened = listen(application(room, seats, poll), room)
    with suppress(KeyboardInterrupt):
        asyncio.run(_with_page(opened, room, poll) if room.piped else opened)


async def _with_page(opened: Any, room: Room, poll: Poll) -> None:
    """Serve while a page of the kit asks through the input; report what comes."""
    loop, ended = asyncio.get_running_loop(), asyncio.Event()

    def obeyed(line: str) -> None:
        try:
            obey(poll, line)
        except ValueError as refusal:
            _report(refused=str(refusal))

    def heard() -> None:
        for line in sys.stdin:
            loop.call_soon_threadsafe(obeyed, line)
        loop.call_soon_threadsafe(ended.set)

    listening = asyncio.ensure_future(opened)
    await asyncio.sleep(0)  # an address that is taken fails here
    if listening.done():
        listening.result()
    _report(address=room.address, code=room.code, picture=invitation(room))
    threading.Thread(target=heard, daemon=True).start()
    before: dict[str, Any] = {}
    while not ended.is_set():
        now = state(poll)
        if now != before:
            _report(**now)
            before = now
        await asyncio.sleep(_PAUSE)
    listening.cancel()


def _report(**told: Any) -> None:
    print(json.dumps(told), flush=True)


def state(poll: Poll) -> dict[str, Any]:
    """Return what a page of the kit shows of a class.

    Parameters
    ----------
    poll : Poll
        The class.

    """
    return {
        "stage": poll.stage,
        "key": poll.question.key,
        "given": poll.given,
        "said": poll.said,
        "sheet": poll.sheet,
    }


def obey(poll: Poll, line: str) -> None:
    """Do what a page of the kit asks for.

    Parameters
    ----------
    poll : Poll
        The class.
    line : str
        JSON: a stage, and what is asked in it.

    """
    asked = json.loads(line)
    if asked["stage"] == "readings":
        poll.ask_for_readings(asked["sticks"], asked["kinds"])
        return
    told = asked["question"]
    wanted = Question(**{**told, "options": tuple(Option(**one) for one in told["options"])})
    if wanted not in poll.questions:
        poll.questions = [*poll.questions, wanted]
    poll.show(asked["stage"], list(poll.questions).index(wanted))
