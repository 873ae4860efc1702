# SPDX-License-Identifier: MIT
"""A class that answers: counted once each, without names, and what is refused."""

import json
import re
import shutil
import socket
import subprocess
import time
from concurrent.futures import ThreadPoolExecutor
from html import unescape
from types import SimpleNamespace
from urllib.request import urlopen

import pytest
from rooms import (
    READY,
    Clock,
    Pupil,
    command,
    environment,
    free_port,
    open_forms,
    serving,
)

from glasskit.classroom import Lesson, class_result, question, read_sheet
from glasskit.room.__main__ import _asked
from glasskit.room.answers import (
    EACH_PER_MINUTE,
    application,
    lesson_poll,
    obey,
    state,
)
from glasskit.room.door import refusals
from glasskit.room.forms import LARGEST, SEAT
from glasskit.room.poll import MOST_READINGS, Full, Poll
from glasskit.room.seats import Seats

HTTPS = "--https=https://room.example/"
RIGHT = question("nick").correct


@pytest.fixture(scope="module")
def served():
    """Return one server for all tests of this file; each gets a class and words of its own."""
    room, clock = _asked(["answers", "--seats=28", HTTPS]), Clock()
    app = application(room, Seats(1), lesson_poll(room), clock)
    shared = app.wildcard_router.rules[0].target_kwargs
    with serving(app) as address:
        yield SimpleNamespace(address=address, room=room, shared=shared, clock=clock)


@pytest.fixture
def room(served):
    """Return a class of 28 that is asked its first question, and a pupil who has come in."""
    served.clock.now += 3600  # whatever came too often before
    poll, seats = lesson_poll(served.room), Seats(1, served.clock)
    served.shared.update(poll=poll, seats=seats)
    poll.show("before")
    made = SimpleNamespace(
        **vars(served) | {"poll": poll, "words": seats.words[SEAT], "code": served.room.code}
    )
    made.pupil = pupil(made)
    return made


def pupil(room):
    """Return a browser that has come in."""
    new = Pupil(room.address)
    _, page = new.ask(f"/{room.code}")
    code = re.search(r'name="code" value="([^"]*)"', page)[1]
    assert new.fill_in("/come-in", page, code=code)[0] == 200
    return new


def desk(room):
    teacher = Pupil(room.address)
    status, page = teacher.fill_in("/desk/login", word=room.words[0])
    assert (status, "Keep the counts off the wall" in page) == (200, True)
    return teacher


# --- answers --------------------------------------------------------------------------------


def test_an_answer_sent_twice_counts_once_and_a_reload_keeps_it(room):
    page = room.pupil.ask("/")[1]
    for _ in range(2):
        status, answered = room.pupil.fill_in("/answer", page, option="1")
        assert (status, "Your answer is in: <b>B</b>" in answered) == (200, True)
    assert room.poll.tally.before == (0, 1, 0, 0)
    assert 'value="1" checked' in room.pupil.ask("/")[1]
    room.pupil.fill_in("/answer", option="2")
    assert room.poll.tally.before == (0, 0, 1, 0)
    room.pupil.ask(f"/{room.code}")  # the QR code once more
    assert len(room.poll.pupils) == 1


def test_before_and_after_are_compared_and_each_is_told_its_own_reply(room):
    room.pupil.fill_in("/answer", option="1")
    room.poll.show("talk")
    page = room.pupil.ask("/")[1]
    assert "Before talking you said <b>B</b>" in page
    assert "What happens" not in page
    room.poll.show("after")
    assert "Before talking you said B" in room.pupil.ask("/")[1]
    room.pupil.fill_in("/answer", option=str(RIGHT))
    assert room.poll.tally.right == (0, 1)
    room.poll.show("told")
    page = unescape(room.pupil.ask("/")[1])
    assert "After talking you said <b>C</b>" in page
    assert question("nick").options[RIGHT].reply in page


def test_a_form_for_a_closed_question_is_not_counted_and_says_so(room):
    late = room.pupil.ask("/")[1]
    room.poll.show("before", 1)
    status, page = room.pupil.fill_in("/answer", late, option="1")
    assert (status, "was not counted" in page) == (409, True)
    assert room.poll.questions[1].text in unescape(page)
    room.poll.show("talk", 0)
    assert room.pupil.fill_in("/answer", late, option="1")[0] == 409
    assert sum(room.poll.tally.before) == 0
    room.poll.show("before", 0)  # opened again, the form is good again
    assert room.pupil.fill_in("/answer", late, option="1")[0] == 200


@pytest.mark.parametrize("option", ["", "4", "-1", "B", "1e0", "\N{SUPERSCRIPT TWO}", "<b>"])
def test_what_is_no_answer_is_refused(room, option):
    status, page = room.pupil.fill_in("/answer", option=option)
    assert (status, "Choose one of the answers." in page) == (409, True)
    assert sum(room.poll.tally.before) == 0


def test_a_form_from_elsewhere_or_a_stranger_counts_nothing(room):
    page = room.pupil.ask("/")[1]
    for wrong in ({"_xsrf": "2|0123|4567|89"}, {"_xsrf": ""}):
        assert room.pupil.fill_in("/answer", page, option="1", **wrong)[0] == 403
    stranger = Pupil(room.address)
    for path in ("/answer", "/reading", "/take-back", "/desk"):
        status, page = stranger.fill_in(path, option="1", stage="told", place="0")
        assert (status, "nothing was stored" in page) == (403, True), path
    for path in ("/now", "/desk/now", "/desk/answers.csv", "/desk/poster"):
        assert stranger.ask(path)[0] == 403
    assert room.poll.stage == "before"
    assert sum(room.poll.tally.before) == 0


def test_the_code_lets_in_and_guessing_is_slowed_down(room):
    stranger = Pupil(room.address)
    _, page = stranger.ask("/")
    assert "Code, as shown in the room" in page
    assert question("nick").text not in unescape(page)
    tries = [stranger.fill_in("/come-in", page, code="bbbb")[0] for _ in range(31)]
    assert tries == [401] * 30 + [429]
    room.clock.now += 61
    typed = f" {room.code.upper()} "
    assert stranger.fill_in("/come-in", page, code=typed)[0] == 200
    assert len(room.poll.pupils) == 2


def test_two_hundred_browsers_do_not_come_into_a_class_of_28(room):
    last = [Pupil(room.address).fill_in("/come-in", code=room.code) for _ in range(36)][-1]
    assert (last[0], len(room.poll.pupils)) == (503, 35)
    assert "35 browsers have come in for a class of 28" in last[1]
    assert "more than the class has" in room.poll.said
    with pytest.raises(Full):
        room.poll.come_in()
    room.pupil.fill_in("/answer", option="1")
    assert sum(room.poll.tally.before) == 1
    with pytest.raises(SystemExit):
        _asked(["answers", "--seats=many"])
    assert "--seats must be 1 to 60; got 200." in refusals(_asked(["answers", "--seats=200"]))


def test_who_asks_too_often_waits_and_nobody_else_does(room):
    other = pupil(room)
    for _ in range(EACH_PER_MINUTE):
        room.pupil.ask("/now")
    status, page = room.pupil.ask("/")
    assert (status, "Too many requests" in page) == (429, True)
    assert other.fill_in("/answer", option="0")[0] == 200
    room.clock.now += 61
    assert room.pupil.fill_in("/answer", option="0")[0] == 200
    assert room.poll.tally.before[0] == 2


def test_forty_answer_at_once_and_each_counts_once(served, room):
    many = _asked(["answers", "--seats=40", HTTPS])
    room.poll = Poll(size=40, questions=lesson_poll(many).questions)
    served.shared["poll"] = room.poll
    room.poll.show("before")
    with ThreadPoolExecutor(20) as all_at_once:
        pupils = list(all_at_once.map(lambda _: pupil(room), range(40)))
        for _ in range(2):  # on a bad line a browser sends a form again
            done = all_at_once.map(
                lambda both: both[1].fill_in("/answer", option=str(both[0] % 4))[0],
                enumerate(pupils),
            )
            assert set(done) == {200}
    assert room.poll.tally.before == (10, 10, 10, 10)
    assert room.poll.said == "Come in: 40 of 40; answered, before: 40."


# --- readings -------------------------------------------------------------------------------


def reading(one, *cells, page=None, **more):
    return one.fill_in(
        "/reading",
        page,
        **{f"cell{place}": cell for place, cell in enumerate(cells)},
        **more,
    )


def test_own_readings_come_as_page_31_takes_them(room):
    room.poll.ask_for_readings("round", ["whole", "nicked"])
    pupils = [room.pupil, *(pupil(room) for _ in range(4))]
    for place, one in enumerate(pupils):
        for kind, mass in (("whole", 70 + 5 * place), ("nicked", f"{40 + 3 * place},5")):
            status, page = reading(one, kind, str(mass), "100", "1,8")
            assert status == 200
        assert "You have sent 2 of at most 12" in page
        assert 'name="cell2" inputmode="decimal" maxlength="24" value="100"' in page
        assert 'name="cell1" inputmode="decimal" maxlength="24" value=""' in page
    assert room.poll.sheet.startswith("kind; mass / g; span / mm; diameter / mm\nwhole; 70;")
    result = class_result(read_sheet(room.poll.sheet))
    assert result.strengths.size == 10
    assert result.pair.names == ("nicked", "whole")
    assert "sticks sent: 10, by 5 of them" in room.poll.said


@pytest.mark.parametrize(
    ("cells", "said"),
    [
        (("6o", "100", "1.8"), "is the letter o meant as a zero?"),
        (("", "100", "1.8"), "nothing is written here"),
        (("nan", "100", "1.8"), "is not a number"),
        (("-5", "100", "1.8"), "is not above zero"),
        (("60; 70", "100", "1.8"), "More entries than the"),
        (("60\n70; 100; 1.8", "100", "1.8"), "More entries than the"),
        (("#5", "100", "1.8"), "is not a number"),
        (('"', "100", "1.8"), "is not a number"),
        (("<script>alert(1)", "100", "1.8"), "is not a number"),
        (("=1+1", "100", "1.8"), "is not a number"),
        (("6" * 25, "100", "1.8"), "at most 24 signs"),
        (("60", "100", "1800"), "is hardly possible"),
    ],
)
def test_what_is_no_reading_is_refused_in_words_and_stays_as_typed(room, cells, said):
    room.poll.ask_for_readings("round")
    status, page = reading(room.pupil, *cells)
    assert status == 400
    assert said in unescape(page)
    assert "<script>alert" not in page
    kept = re.search(r'name="cell0"[^>]*? value="([^"]*)"', page)[1]
    assert unescape(kept).split() == cells[0].split()
    assert room.poll.sheet == "mass / g; span / mm; diameter / mm\n"


def test_an_odd_number_counts_once_somebody_vouches_for_it(room):
    room.poll.ask_for_readings("flat")
    odd = ("0.07 kg", "100", "25", "900")
    status, page = reading(room.pupil, *odd)
    assert (status, "I have looked again" in page) == (400, True)
    assert reading(room.pupil, *odd, page=page, sure="yes")[0] == 200
    [row] = read_sheet(room.poll.sheet).with_status("used")
    assert row.text == "0.07 kg!; 100!; 25!; 900!"


def test_a_kind_must_be_one_of_the_teachers(room):
    room.poll.ask_for_readings("round", ["whole", "nicked"])
    status, page = reading(room.pupil, "<b>mine", "60", "100", "1.8")
    assert (status, "Say which kind it was: whole or nicked." in page) == (400, True)
    for kinds in (["<b>"], ["two words"], ["x" * 25]):
        with pytest.raises(ValueError, match="kinds must be single words"):
            room.poll.ask_for_readings("round", kinds)
    with pytest.raises(ValueError, match="sticks must be one of round, flat"):
        room.poll.ask_for_readings("long")


def test_a_reading_sent_twice_counts_once_and_only_its_sender_takes_it_back(room):
    room.poll.ask_for_readings("round")
    page = room.pupil.ask("/")[1]
    for _ in range(2):
        assert reading(room.pupil, "60", "100", "1.8", page=page)[0] == 200
    assert room.poll.sheet.count("60; 100; 1.8") == 1
    [one] = room.poll._readings
    pupil(room).fill_in("/take-back", once=one.once)
    assert "60; 100" in room.poll.sheet
    room.pupil.fill_in("/take-back", once=one.once)
    assert "60; 100" not in room.poll.sheet


def test_a_pupil_sends_so_many_sticks_and_no_more(room):
    room.poll.ask_for_readings("round")
    sent = [reading(room.pupil, "60", "100", "1.8")[0] for _ in range(MOST_READINGS + 1)]
    assert sent == [200] * MOST_READINGS + [400]
    page = room.pupil.ask("/")[1]
    room.poll.show("wait")
    assert "not asked for any more" in reading(room.pupil, "60", "100", "1.8", page=page)[1]


# --- the desk -------------------------------------------------------------------------------


def test_the_desk_asks_closes_tells_and_goes_on(room):
    teacher = desk(room)
    room.pupil.fill_in("/answer", option="1")
    version, said, *told = teacher.ask("/desk/now")[1].splitlines()
    assert said == "Come in: 1 of 28; answered, before: 1."
    assert 'src="data:image/png' in "".join(told)
    assert "The idea that" not in "".join(told)
    _, page = teacher.fill_in("/desk", stage="told", place="0")
    assert "The idea that glass has one breaking stress" in page
    assert "What happens: C" in page
    assert teacher.ask("/desk/now")[1].split()[0] != version
    assert "What happens" in room.pupil.ask("/")[1]
    teacher.fill_in("/desk", stage="before", place="1")
    assert (room.poll.place, room.poll.stage) == (1, "before")
    for wrong in ({"stage": "before", "place": "99"}, {"stage": "party", "place": "0"}):
        assert teacher.fill_in("/desk", **wrong)[0] == 400
    teacher.fill_in("/desk", stage="readings", sticks="round", kinds="whole, nicked")
    reading(room.pupil, "whole", "60", "100", "1.8")
    assert "<td>60</td>" in teacher.ask("/desk/now")[1]
    status, page = teacher.fill_in("/desk", stage="readings", sticks="round", kinds="<b>")
    assert (status, "Kinds must be single words" in page) == (400, True)


def test_what_the_teacher_saves_is_all_that_is_kept(room):
    teacher = desk(room)
    room.pupil.fill_in("/answer", option="1")
    table = teacher.ask("/desk/answers.csv")[1].splitlines()
    assert table[0].lstrip("\ufeff") == "question,answer,happens,before,after"
    assert sum(line.endswith(",1,0") for line in table) == 1
    room.poll.ask_for_readings("round")
    reading(room.pupil, "60", "100", "1.8")
    saved = teacher.ask("/desk/readings.csv")[1]
    assert read_sheet(saved).with_status("used")[0].text == "60; 100; 1.8"
    assert room.code in teacher.ask("/desk/poster")[1]


def test_the_desk_s_word_works_once_and_wrong_ones_are_slowed_down(room):
    desk(room)
    assert Pupil(room.address).fill_in("/desk/login", word="bcdf-ghkm")[0] == 401
    spent = [Pupil(room.address).fill_in("/desk/login", word="x")[0] for _ in range(3)]
    assert spent == [401, 401, 429]


def test_a_question_of_the_teacher_s_own_brings_no_markup(room):
    own = json.dumps(
        {
            "stage": "before",
            "question": {
                **{"key": "own", "notebook": "", "topic": "", "level": 1},
                "text": "<script>alert(1)</script>",
                "options": [
                    {"text": "<b>yes", "reply": "r", "idea": "", "correct": True},
                    {"text": "=no", "reply": "r", "idea": "", "correct": False},
                ],
            },
        }
    )
    obey(room.poll, own)
    obey(room.poll, own)
    assert len(room.poll.questions) == 1 + len(lesson_poll(room.room).questions)
    page = room.pupil.ask("/")[1]
    assert "<script>alert" not in page
    assert "&lt;b&gt;yes" in page
    room.pupil.fill_in("/answer", option="0")
    assert state(room.poll)["given"]["own"]["before"] == (1, 0)
    assert "'=no" in desk(room).ask("/desk/answers.csv")[1]


# --- what browsers keep and may load --------------------------------------------------------


def test_cookies_are_for_one_lesson_one_port_and_no_script(room):
    held = {item.name: item for item in room.pupil.cookies}
    assert set(held) == {"pupil-8000", "xsrf-8000"}
    for name, site in (("pupil-8000", "Lax"), ("xsrf-8000", "Strict")):
        item = held[name]
        assert item.secure
        assert item.has_nonstandard_attr("HttpOnly")
        assert item.get_nonstandard_attr("SameSite") == site
        assert 0 < item.expires - time.time() <= 2 * 3600 + 1
    with urlopen(room.address) as answer:
        policy = answer.headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "unsafe-inline" not in policy.partition("script-src")[2]


def test_a_large_form_is_not_even_read(room):
    host, port = room.address.removeprefix("http://").split(":")
    with socket.create_connection((host, int(port)), timeout=10) as line:
        head = f"POST /answer HTTP/1.1\r\nHost: x\r\nContent-Length: {LARGEST + 1}\r\n\r\n"
        line.sendall(head.encode())
        assert line.recv(100).startswith(b"HTTP/1.1 400")


# --- how it is opened -----------------------------------------------------------------------


def test_a_lesson_asks_its_vote_first_and_then_what_it_teaches():
    lesson = Lesson(topic="ions", age="14-16", pupils=20)
    asked = lesson_poll(_asked(["answers", "--seats=20", "--topic=ions", "--age=14-16"]))
    keys = [one.key for one in asked.questions]
    assert keys[0] == lesson.about["vote"]
    assert set(keys) == {lesson.about["vote"], *lesson.taught}
    assert "tension" in str(lesson_poll(_asked(["answers", "--topic=quench", "--age=16-18"])))


def test_what_is_dangerous_is_refused_as_for_other_rooms(monkeypatch):
    monkeypatch.setattr("os.geteuid", lambda: 1000)
    monkeypatch.setattr(shutil, "which", lambda _: None)  # no boxes: nothing runs for anyone
    assert refusals(_asked(["answers"])) == []
    said = " ".join(refusals(_asked(["answers", "--host=0.0.0.0", "--port=80"])))
    assert "not all of them at once" in said
    assert "--port must be" in said
    assert "can be reached from anywhere" in refusals(_asked(["answers", "--host=1.1.1.1"]))[0]
    monkeypatch.setattr("os.geteuid", lambda: 0)
    assert "administrator's account" in refusals(_asked(["answers"]))[0]


needs_account = pytest.mark.skipif(
    shutil.which("bwrap") is None, reason="no way to be an ordinary account"
)


@needs_account
def test_the_command_prints_address_code_and_word_and_what_reaches_it(tmp_path):
    with open_forms(tmp_path, "answers", "--seats=28", until="devices come") as (at, printed):
        assert f"{at}/desk" in printed
        assert "Only this machine reaches it" in printed
        made = SimpleNamespace(
            address=at,
            code=re.search(r"Code for all pupils: (\S+)", printed)[1],
            words=[re.search(r"word: (\S+)", printed)[1]],
        )
        teacher, one = desk(made), pupil(made)
        teacher.fill_in("/desk", stage="before", place="0")
        assert one.fill_in("/answer", option="1")[0] == 200
        assert "answered, before: 1" in teacher.ask("/desk/now")[1]
        again = subprocess.run(
            command("answers", f"--port={at.rpartition(':')[2]}"),
            capture_output=True,
            text=True,
            env=environment(tmp_path),
        )
        assert (again.returncode, "cannot be had" in again.stderr) == (1, True)
    # Nothing is kept but the list of fonts.
    assert {one.name for one in tmp_path.iterdir()} <= {".cache", ".config"}


@needs_account
def test_a_page_that_finds_all_ports_taken_says_which(tmp_path):
    with socket.create_server(("127.0.0.1", 0)) as other:
        port = other.getsockname()[1]
        whole = command("answers", f"--port={port}", "--piped")
        place = whole.index("-m")
        tries = "from glasskit.room import __main__ as room; room._PORTS = 1; room.main()"
        whole[place : place + 2] = ["-c", tries]
        shut = subprocess.run(whole, capture_output=True, text=True, env=environment(tmp_path))
    assert (shut.returncode, shut.stdout) == (1, "")
    assert shut.stderr.startswith("The room stays shut.\n- other programs have the ports")
    assert f"{port} to {port}" in shut.stderr


@needs_account
def test_a_page_of_the_kit_is_the_desk_and_the_room_goes_with_it(tmp_path):
    port = free_port()
    with subprocess.Popen(
        command("answers", f"--port={port}", "--seats=28", "--piped"),
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        env=environment(tmp_path),
    ) as room:
        opened = json.loads(room.stdout.readline())
        made = SimpleNamespace(address=opened["address"].rstrip("/"), code=opened["code"])
        assert opened["picture"].startswith("data:image/svg")
        assert json.loads(room.stdout.readline())["given"] == {}
        one = pupil(made)
        assert one.ask("/desk")[0] == 404
        room.stdin.write('{"stage": "readings", "sticks": "round", "kinds": []}\n')
        room.stdin.flush()
        told = {"said": ""}
        while "sticks sent" not in told["said"]:
            told = json.loads(room.stdout.readline())
        assert reading(one, "60", "100", "1.8")[0] == 200
        while "60" not in told["sheet"]:
            told = json.loads(room.stdout.readline())
        room.stdin.close()
        assert room.wait(READY) == 0
