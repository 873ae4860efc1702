# SPDX-License-Identifier: MIT
"""The break log by telephone: what it refuses, and that no blow is lost or stored twice."""

import os
import re
import shutil
import socket
import time
from concurrent.futures import ThreadPoolExecutor
from datetime import date
from html import unescape
from types import SimpleNamespace
from urllib.request import urlopen

import pytest
from rooms import Clock, Pupil, open_forms, serving

from glasskit.demonstration import Entry, read_log
from glasskit.demonstration.breaklog import add
from glasskit.live.breaklog import LogForm
from glasskit.room.__main__ import _asked
from glasskit.room.door import refusals
from glasskit.room.forms import LARGEST, SEAT
from glasskit.room.seats import Seats
from glasskit.room.telephone import PER_MINUTE, application

HTTPS = "--https=https://room.example/"


@pytest.fixture(scope="module")
def served(tmp_path_factory):
    """Return one server for all tests of this file; each gets a log and words of its own."""
    room = _asked(["telephone", f"--log={tmp_path_factory.mktemp('none') / 'log.csv'}", HTTPS])
    clock = Clock()
    app = application(room, Seats(1), clock)
    shared = app.wildcard_router.rules[0].target_kwargs
    with serving(app) as address:
        yield SimpleNamespace(address=address, shared=shared, clock=clock)


@pytest.fixture
def desk(served, tmp_path):
    """Return a telephone that has come in, its log and the words that are left."""
    served.clock.now += 3600  # whatever came too often before
    log = tmp_path / "log.csv"
    seats = Seats(1, served.clock)
    room = _asked(["telephone", f"--log={log}", HTTPS])
    served.shared.update(room=room, seats=seats)
    phone = Pupil(served.address)
    entered, page = phone.come_in({"word": seats.words[SEAT][0]})
    assert entered == 200
    return SimpleNamespace(
        phone=phone, log=log, page=page, words=seats.words[SEAT], address=served.address
    )


def hidden(page, action="/"):
    """Return the hidden fields of the form with this action."""
    form = page.partition(f'action="{action}"')[2].partition("</form>")[0]
    return dict(re.findall(r'name="(_xsrf|once)" value="([^"]*)"', form))


def filled(page, name):
    """Return what a field of the page holds."""
    return unescape(re.search(rf'name="{name}"[^>]*? value="([^"]*)"', page)[1])


def chosen(page):
    return re.findall(r'value="([^"]*)" checked', page)


def blow(desk, page=None, **typed):
    """Send a blow with a form; return status and page."""
    form = {"pane": "ordinary", "height": "1,00", "went": "broke", **typed}
    return desk.phone.ask("/", "POST", {**hidden(page or desk.page), **form})


def heights(desk):
    return [entry.height for entry in read_log(desk.log).entries]


def lines(desk):
    return desk.log.read_text("utf-8").splitlines()[1:] if desk.log.exists() else []


def test_a_blow_is_said_back_counted_and_taken_back_by_a_line_of_its_own(desk):
    status, page = blow(desk)
    assert status == 200
    assert "Stored: <b>ordinary, 1.00 m, broke</b>" in page
    assert (filled(page, "height"), chosen(page)) == ("1,00", ["ordinary"])
    _, page = blow(desk, page, went="held")
    assert "“ordinary” broke: 1 of 2 from 1.00 m." in unescape(page)
    assert [entry.date for entry in read_log(desk.log).entries] == [date.today()] * 2
    taken = hidden(page, "/take-back")
    status, page = desk.phone.ask("/take-back", "POST", taken)
    assert "Taken back: ordinary, 1.00 m, held." in page
    assert [entry.broke for entry in read_log(desk.log).entries] == [True]
    assert [line.split(",")[4] for line in lines(desk)] == ["yes", "no", "taken back (no)"]
    add(desk.log, Entry(date=date.today(), pane="ordinary", height=1.0, broke=False))
    desk.phone.ask("/take-back", "POST", taken)  # sent twice: another's equal blow stays
    assert len(lines(desk)) == 4


def test_a_number_stays_with_a_pane_until_it_broke(desk):
    _, page = blow(desk, went="held", number="3")
    assert filled(page, "number") == "3"
    _, page = blow(desk, page, number="3", height="1.5 m")
    assert filled(page, "number") == ""
    assert [entry.pane for entry in read_log(desk.log).entries] == ["ordinary #3"] * 2


def test_a_pane_by_another_name_is_offered_from_then_on(desk):
    _, page = blow(desk, other="from the <salt>")
    assert filled(page, "other") == ""
    assert chosen(page) == ["from the &lt;salt&gt;"]
    assert "<salt>" not in page


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"height": "nan"}, "Write a number in m, or one with its unit; got “nan”."),
        ({"height": "1e999"}, "got “1e999”."),
        ({"height": "-1"}, "Height must be finite and positive; got -1 m."),
        ({"height": "30"}, "no rig is higher (was another unit meant?); got 30 m."),
        ({"height": ""}, "Say the height it fell from."),
        ({"height": '"><b>'}, 'got “"><b>”.'),
        ({"went": ""}, "Say whether it broke or held."),
        ({"went": "perhaps"}, "Say whether it broke or held."),
        ({"pane": ""}, "Say which pane it was."),
        ({"pane": "#3"}, "Pane must be named"),
    ],
)
def test_what_cannot_be_is_refused_in_words_and_stays_as_typed(desk, typed, said):
    form = {"pane": "toughened", "height": "1,20", "went": "held", "number": "7", **typed}
    status, page = blow(desk, **form)
    assert status == 400
    assert said in unescape(page)
    assert (filled(page, "height"), filled(page, "number")) == (form["height"], "7")
    known = {"toughened", "held"} & {form["pane"], form["went"]}
    assert set(chosen(page)) == known
    assert not desk.log.exists()
    mended = {**form, "pane": "toughened", "height": "1,20", "went": "held"}
    blow(desk, page, **mended)
    assert heights(desk) == [1.2]


def test_a_form_that_is_sent_twice_stores_one_blow(desk):
    for _ in range(2):
        status, page = blow(desk)
        assert (status, "Stored: <b>ordinary, 1.00 m, broke</b>" in page) == (200, True)
    assert len(lines(desk)) == 1
    status, page = blow(desk, height="1,5")  # an old form that is filled in anew
    assert status == 409
    assert "This form was sent before and stored ordinary, 1.00 m, broke" in page
    assert filled(page, "height") == "1,5"
    blow(desk, page, height="1,5")
    assert heights(desk) == [1.0, 1.5]


def test_nobody_comes_in_without_the_word_and_a_word_works_once(desk):
    stranger = Pupil(desk.address)
    _, page = stranger.ask("/")
    assert "Word, as printed" in page
    assert 'name="height"' not in page
    form = {**hidden(page, "/login"), "once": "x" * 22, "pane": "a", "height": "1"}
    for path in ("/", "/take-back"):
        status, page = stranger.ask(path, "POST", {**form, "went": "held"})
        assert (status, "Nothing was stored" in page) == (403, True)
    tries = [stranger.come_in({"word": f"bcdf-ghk{end}"})[0] for end in "mnpq"]
    assert tries == [401, 401, 401, 429]
    assert not desk.log.exists()


def test_a_form_from_elsewhere_is_refused(desk):
    for wrong in ({"_xsrf": "2|0123|4567|89"}, {"_xsrf": ""}):
        status, page = blow(desk, **wrong)
        assert (status, "nothing was stored" in page) == (403, True)
    assert blow(desk, once="")[0] == 400
    assert not desk.log.exists()


def test_too_many_requests_wait_and_what_was_typed_stays(desk, served):
    page = desk.page
    for _ in range(PER_MINUTE):
        status, answer = desk.phone.ask("/")
        page = answer if status == 200 else page
    status, answer = blow(desk, page, height="1,75")
    assert (status, filled(answer, "height")) == (429, "1,75")
    assert not desk.log.exists()
    served.clock.now += 61
    assert blow(desk, answer, height="1,75")[0] == 200
    assert heights(desk) == [1.75]


def test_a_large_form_is_not_even_read(desk):
    host, port = desk.address.removeprefix("http://").split(":")
    with socket.create_connection((host, int(port)), timeout=10) as line:
        head = f"POST / HTTP/1.1\r\nHost: {host}\r\nContent-Length: {LARGEST + 1}\r\n\r\n"
        line.sendall(head.encode())
        assert line.recv(100).startswith(b"HTTP/1.1 400")


def test_cookies_and_headers_are_as_strict_as_those_of_the_pages(desk):
    held = {item.name: item for item in desk.phone.cookies}
    assert set(held) == {"log-8000", "xsrf-8000"}  # no other port's, nor JupyterLab's
    for item in held.values():
        assert item.secure
        assert item.has_nonstandard_attr("HttpOnly")
        assert item.get_nonstandard_attr("SameSite") == "Strict"
        assert 0 < item.expires - time.time() <= 2 * 3600 + 1
    with urlopen(desk.address) as answer:
        assert answer.headers["Cache-Control"] == "no-store"
        assert "default-src 'none'" in answer.headers["Content-Security-Policy"]


def test_a_full_disk_loses_nothing_that_was_typed(desk, monkeypatch):
    def full(*_, **__):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("glasskit.room.telephone.add", full)
    status, page = blow(desk, height="1,3")
    assert (status, filled(page, "height")) == (503, "1,3")
    assert "The log cannot be written: No space left on device." in page
    monkeypatch.undo()
    blow(desk, page, height="1,3")
    assert heights(desk) == [1.3]


def test_notebook_and_telephone_keep_each_other_s_lines(desk):
    def notebook():
        for number in range(15):
            day = date(2030, 5, 31)
            add(desk.log, Entry(date=day, pane="ordinary", height=2 + number / 8, broke=True))

    def telephone():
        page = desk.page
        for number in range(15):
            _, page = blow(desk, page, height=f"{1 + number / 100}")

    with ThreadPoolExecutor() as both:
        for done in [both.submit(notebook), both.submit(telephone)]:
            done.result()
    assert sorted(heights(desk)) == [1 + n / 100 for n in range(15)] + [
        2 + n / 8 for n in range(15)
    ]


def test_the_notebook_shows_a_blow_from_the_telephone_and_keeps_what_is_being_typed(desk):
    form = LogForm(desk.log, lambda: form.read())
    form.ask(["ordinary", "toughened"])
    for height in ("1.0", "2.0"):
        form.height.value, form.went.value = height, "it broke"
        form.button.click()
    form.blows.index = 1
    form.correct.click()
    form.height.value, form.number.value, form.origin.value = "1.1", "5", "edge"
    blow(desk, pane="toughened", height="1,20", went="held")
    form.read()
    assert form.blows.options[0][0] == "3: toughened, 1.20 m, held"
    assert "“toughened” broke: 0 of 1 from 1.20 m" in form.report.value
    typed = (form.height.value, form.number.value, form.went.value, form.origin.value)
    assert typed == ("1.1", "5", "it broke", "edge")
    assert form.take_back.disabled
    form.button.click()  # takes the place of the blow that was chosen, and of no other
    said = {(entry.pane, entry.height) for entry in read_log(desk.log).entries}
    assert said == {("ordinary", 2.0), ("toughened", 1.2), ("ordinary #5", 1.1)}
    _, page = desk.phone.ask("/")
    assert "ordinary #5, 1.10 m, broke" in page


# --- how it is opened -----------------------------------------------------------------------


def test_it_opens_without_boxes_but_not_as_root_nor_where_a_room_would_not(
    tmp_path, monkeypatch
):
    def said(*words):
        room = _asked(["telephone", f"--log={tmp_path / 'log.csv'}", *words])
        return " ".join(refusals(room))

    monkeypatch.setattr(shutil, "which", lambda _: None)
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    assert said() == ""
    assert "not all of them at once" in said("--host=0.0.0.0")
    assert "can be reached from anywhere" in said("--host=1.1.1.1")
    assert "--port must be" in said("--port=80")
    assert "there is no folder" in said(f"--log={tmp_path}/typo/log.csv")
    assert "cannot be read: Is a directory" in said(f"--log={tmp_path}")
    monkeypatch.setattr(os, "geteuid", lambda: 0)
    assert "administrator's account" in said()
    with pytest.raises(SystemExit):
        _asked(["telephone"])


@pytest.mark.skipif(shutil.which("bwrap") is None, reason="no way to be an ordinary account")
def test_the_command_prints_address_and_word_and_serves(tmp_path):
    log = f"--log={tmp_path / 'log.csv'}"
    with open_forms(tmp_path, "telephone", log, until="next plan") as (address, printed):
        assert f"{address}/" in printed
        assert "which holds 0 blows" in printed
        assert "Whoever drops does not hold the telephone" in printed
        word = re.search(r"Word: (\S+)", printed)[1]
        status, page = Pupil(address).come_in({"word": word})
        assert (status, "Store this blow" in page) == (200, True)
