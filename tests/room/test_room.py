# SPDX-License-Identifier: MIT
"""What a room refuses, asked of real servers by pupils who try it."""

import os
import re
import shutil
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from types import SimpleNamespace

import psutil
import pytest
from rooms import (
    READY,
    Pupil,
    answers,
    command,
    environment,
    execute,
    open_room,
    printed,
    send,
)

from glasskit.room.__main__ import _asked
from glasskit.room.door import refusals

pytestmark = pytest.mark.skipif(
    shutil.which("bwrap") is None, reason="bubblewrap is not installed, so no seat is a box"
)
HTTPS = "--https=https://room.example/"
SEATS = ["seat-01", "seat-02"]


def cookies_are_for_one_lesson(pupil, same_site):
    """Check the cookies that let a pupil in."""
    login = [item for item in pupil.cookies if "login" in item.name or "username" in item.name]
    assert login
    for item in login:
        assert item.secure, item.name
        assert item.has_nonstandard_attr("HttpOnly"), item.name
        assert item.get_nonstandard_attr("SameSite").lower() == same_site, item.name
        assert 0 < item.expires - time.time() <= 2 * 3600 + 1, item.name


def refused_at_the_door(address, form):
    """Check that from the fourth wrong word on the door stays shut a while."""
    guesser = Pupil(address)
    tries = [guesser.come_in(form("seat-02", f"bcdf-ghk{end}")) for end in "mnpq"]
    assert [status for status, _ in tries][-1] == 429
    assert {status for status, _ in tries} <= {401, 403, 429}
    assert "Try again in" in tries[-1][1]


# --- pages ----------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def pages(tmp_path_factory):
    """Return pages served to two pupils who have come in."""
    with open_room(tmp_path_factory.mktemp("pages"), "pages", "--seats=2", HTTPS) as opened:
        address, words = opened
        pupils = [Pupil(address) for _ in SEATS]
        entered = [
            pupil.come_in({"seat": seat, "word": words[seat]})[0]
            for pupil, seat in zip(pupils, SEATS, strict=True)
        ]
        yield SimpleNamespace(address=address, words=words, pupils=pupils, entered=entered)


def kernel_of(page):
    return re.search(r'"kernelId": "([\w-]+)"', page)[1]


def test_pages_open_to_a_seat_and_its_word_once(pages):
    assert pages.entered == [200, 200]
    again = Pupil(pages.address)
    assert again.come_in({"seat": "seat-01", "word": pages.words["seat-01"]})[0] == 401


def test_pages_are_shown_to_nobody_else(pages):
    stranger = Pupil(pages.address)
    _, page = stranger.ask("/voila/render/03_ions_to_scale.ipynb")
    assert "Take your seat" in page
    assert "kernelId" not in page


def test_pages_slow_down_who_guesses(pages):
    refused_at_the_door(pages.address, lambda seat, word: {"seat": seat, "word": word})


def test_pages_cookies_last_one_lesson(pages):
    cookies_are_for_one_lesson(pages.pupils[0], "strict")


def kernels():
    """Return the processes that are kernels of rooms which this process has opened."""
    below = psutil.Process().children(recursive=True)  # and kernels of JupyterLab's own tests
    rooms = [one for one in below if "glasskit.room" in one.cmdline()]
    found = {one for room in rooms for one in room.children(recursive=True)}
    return {one for one in found if one.cmdline()[1:3] == ["-m", "ipykernel_launcher"]}


def test_a_page_opens_in_a_kernel_that_was_waiting(pages):
    limit = time.monotonic() + READY
    while len(waiting := kernels()) < len(SEATS) and time.monotonic() < limit:
        time.sleep(0.1)
    status, page = pages.pupils[0].ask("/voila/render/03_ions_to_scale.ipynb")
    assert (status, "glasskit" in page) == (200, True)
    assert len(waiting) == len(SEATS)
    assert kernels() == waiting


def test_a_page_runs_no_code_and_a_seat_has_one_kernel(pages, tmp_path):
    ada, _ben = pages.pupils
    status, page = ada.ask("/voila/render/03_ions_to_scale.ipynb")
    assert status == 200
    assert "glasskit" in page
    kernel = kernel_of(page)
    channel = ada.socket(f"/api/kernels/{kernel}/channels")
    execute(channel, f"open({str(tmp_path / 'run')!r}, 'w')")
    asked = send(channel, "kernel_info_request", {})
    replies = answers(channel, asked, "kernel_info_reply")
    assert replies[-1]["content"]["status"] == "ok"  # it listens, and yet:
    assert list(tmp_path.iterdir()) == []
    channel.close()
    _, second = ada.ask("/voila/render/03_ions_to_scale.ipynb")
    assert kernel_of(second) != kernel
    assert ada.ask(f"/api/kernels/{kernel}")[0] == 404
    assert ada.ask(f"/api/kernels/{kernel_of(second)}")[0] == 200


def names_of(page):
    """Return what a page calls its kernel and its panels."""
    return re.findall(r'"(?:kernelId|model_id)": "([\w-]+)"|glasskit-([0-9a-f-]{36})', page)


def test_what_is_made_once_holds_no_name_of_another_seat(pages):
    made = [pages.pupils[0], *pages.pupils]  # the first one has it made
    answered = [pupil.ask("/voila/render/03_ions_to_scale.ipynb") for pupil in made]
    assert [status for status, _ in answered] == [200, 200, 200]
    first, second = (page for _, page in answered[1:])
    before, _, after = second.partition('<div id="rendered_cells"')
    assert "See which ion squeezes glass" in before
    assert "kernelId" not in before
    assert "kernelId" in after
    names = [dict.fromkeys(map("".join, names_of(page))) for page in (first, second)]
    assert len(names[0]) == 3
    assert not set(names[0]) & set(names[1])
    for theirs, other in zip(*names, strict=True):
        first = first.replace(theirs, other)
    assert first == second
    kernel, panel = list(names[1])[:2]
    channel = pages.pupils[1].socket(f"/api/kernels/{kernel}/channels")
    send(channel, "comm_info_request", {})
    while panel not in (got := str(channel.recv())):
        assert "comm_info_reply" not in got
    channel.close()


@pytest.mark.parametrize(
    ("method", "path"),
    [
        ("POST", "/api/terminals"),
        ("GET", "/terminals/1"),
        ("GET", "/api/kernels"),
        ("POST", "/api/kernels"),
        ("GET", "/api/contents/01_why_glass_breaks.ipynb"),
        ("GET", "/voila/files/01_why_glass_breaks.ipynb"),
        ("GET", "/voila/files/../seats.html"),
        ("GET", "/voila/files/..%2Fseats.html"),
        ("GET", "/voila/render/../../seats.html"),
        ("PUT", "/voila/api/contents/new.ipynb"),
        ("GET", "/voila/render/..%2F..%2Fseats.html"),
    ],
)
def test_pages_have_no_way_to_a_shell_or_a_file(pages, method, path):
    status, page = pages.pupils[0].ask(path, method, {} if method != "GET" else None)
    assert status in {403, 404, 405}, page[:300]
    assert pages.words["seat-02"] not in page


# --- the hub --------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def hub(tmp_path_factory):
    """Return a hub with two pupils, each at a kernel of their own."""
    folder = tmp_path_factory.mktemp("hub")
    with open_room(folder, "hub", "--seats=2", HTTPS) as (address, words):
        pupils = [Pupil(address) for _ in SEATS]

        def sit(pupil, seat):
            entered, _ = pupil.come_in({"username": seat, "password": words[seat]})
            return entered, pupil.new_kernel(seat)

        with ThreadPoolExecutor() as both:
            entered, channels = zip(*both.map(sit, pupils, SEATS), strict=True)
        yield SimpleNamespace(
            address=address,
            words=words,
            pupils=pupils,
            entered=entered,
            channels=channels,
            folder=folder / "room",
        )
        for channel in channels:
            channel.close()


def test_a_hub_seat_opens_to_its_word_once(hub):
    assert set(hub.entered) == {200}
    status, _ = Pupil(hub.address).come_in(
        {"username": "seat-01", "password": hub.words["seat-01"]}
    )
    assert status == 403


def test_a_hub_slows_down_who_guesses(hub):
    refused_at_the_door(hub.address, lambda seat, word: {"username": seat, "password": word})


def test_hub_cookies_last_one_lesson(hub):
    cookies_are_for_one_lesson(hub.pupils[0], "lax")


def test_a_hub_has_no_terminals(hub):
    ada = hub.pupils[0]
    server = "/user/seat-01/"
    status, _ = ada.ask(f"{server}api/terminals", "POST", {}, **ada.xsrf(server))
    assert status == 404


def test_a_pupil_cannot_reach_another_over_the_network(hub):
    ada = hub.pupils[0]
    status, page = ada.ask("/user/seat-02/api/contents")
    assert status in {403, 404}, page[:300]
    assert ada.ask("/hub/api/users")[0] == 403


def test_a_pupil_cannot_reach_another_from_a_kernel(hub):
    ada, ben = hub.channels
    mark = "print(open('mine.txt', 'w').write('ben'))"
    assert printed(ben, f"import os; os.chdir(os.environ['HOME']); {mark}") == "3"
    theirs = hub.folder / "work/seat-02/mine.txt"
    assert theirs.read_text() == "ben"
    assert printed(ada, f"open({str(theirs)!r})") == "FileNotFoundError"
    assert printed(ada, f"open({str(hub.folder / 'seats.html')!r})") == "FileNotFoundError"
    look = "import os; print(sorted(os.listdir(os.environ['HOME'] + '/..')))"
    assert printed(ada, look) == "['seat-01']"
    assert printed(ada, "import os; print(os.getuid() != 0)") == "True"


def test_a_pupil_sees_no_process_of_another_and_no_secret(hub):
    found = printed(
        hub.channels[0],
        "import pathlib\n"
        "for path in pathlib.Path('/proc').glob('[0-9]*/environ'):\n"
        "    print(path.read_bytes())",
    )
    assert "seat-01" in found
    assert "seat-02" not in found
    assert "CONFIGPROXY" not in found


def test_the_kit_is_read_only_in_a_seat(hub):
    code = "import glasskit; open(glasskit.__file__, 'a')"
    assert printed(hub.channels[0], code) == "OSError"


def test_who_takes_4_gigabytes_is_alone_with_it(hub):
    ada, ben = hub.channels
    assert printed(ada, "held = bytearray(4 * 2**30)") == "MemoryError"
    assert printed(ben, "print(6 * 7)") == "42"


# --- what keeps the room shut ---------------------------------------------------------------


def shut(tmp_path, *words):
    done = subprocess.run(
        command(*words, "--folder", str(tmp_path / "room")),
        env=environment(tmp_path),
        capture_output=True,
        text=True,
    )
    assert done.returncode == 1, done.stdout + done.stderr
    return done.stderr


@pytest.mark.skipif(os.geteuid() != 0, reason="asks as root")
def test_a_room_does_not_open_as_root(tmp_path):
    words = [sys.executable, "-m", "glasskit.room", "hub", "--folder", str(tmp_path / "room")]
    done = subprocess.run(words, env=environment(tmp_path), capture_output=True, text=True)
    assert done.returncode == 1
    assert "administrator's account" in done.stderr
    assert not (tmp_path / "room").exists()


def test_another_machines_address_is_refused_before_cards_are_written(tmp_path):
    said = shut(tmp_path, "pages", "--host", "10.255.255.254")
    assert "--host 10.255.255.254 cannot be had: it is none of this machine" in said
    assert not (tmp_path / "room").exists()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--host", "0.0.0.0"], "not all of them at once"),
        (["--host", "::"], "not all of them at once"),
        (["--host", "example.org"], "in digits"),
        (["--host", "1.1.1.1"], "can be reached from anywhere"),
        (["--https", "http://room.example/"], "must begin with https://"),
        (["--host", "10.0.0.5", "--https", "https://room.example/"], "proxy on this machine"),
        (["--seats", "0"], "--seats must be 1 to 60; got 0"),
        (["--port", "80"], "--port must be 1024 to 65535; got 80"),
    ],
)
def test_what_is_dangerous_is_refused_in_words(words, said):
    room = _asked(["pages", "--folder", "/nowhere", *words])
    assert any(said in sentence for sentence in refusals(room))
