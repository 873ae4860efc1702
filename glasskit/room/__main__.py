# SPDX-License-Identifier: MIT
"""Open a room: refuse what is dangerous, print address, QR code and words, then serve."""

import argparse
import errno
import os
import socket
from dataclasses import replace
from importlib import import_module
from pathlib import Path
from typing import Any

from glasskit.classroom import AGES, topics
from glasskit.room.door import FORMS, Room, refusals
from glasskit.room.seats import Seats, letters

_CAUTION = """\
For a closed network and one lesson. Words work once, seats are taken for two hours, and
whoever opens the room anew makes all words and log-ins of before worthless. What stays: the
folder {folder}, with the list of seats and what pupils saved. Print the list, cut it, and
delete the file; at a hub, give each class a --folder of its own or the next finds the last
one's work. No names are asked for or kept."""

_OPEN_LOG = """\
Word: {word} (if a browser was closed: {spare})
Log: {log}, which holds {count} blows

Whoever drops does not hold the telephone: another enters the blows, from behind the line.
Each word works once, a log-in ends after two hours, and whoever opens the log anew makes all
words and log-ins of before worthless. Keep this window off the screen that the audience sees.
Page 20 may stay open: it shows the new blows with the next plan."""

_OPEN_ANSWERS = """\
Code for all pupils: {code}
Your desk: {address}desk, word: {word} (if a browser was closed: {spare})

{reached} No names are asked for. What was answered is in memory alone:
when this window closes it is gone, unless you have saved it at the desk. Keep this window off
the screen that the class sees. Your school's rules on pupils' devices come first."""

_HERE = "Only this machine reaches it, to try: --host with its address opens it to the room."
_REACHED = "Everybody on this network reaches it while it is open, and needs the code."

_PORTS = 20  # a page tries: others on this machine may open rooms at the same moment

_PLAIN = """
NOT ENCRYPTED: on this network whoever listens can read words and follow along as a pupil. For
anything but a closed network put a proxy in front that speaks TLS, with a certificate that
your school or company issues for this machine's name: let it forward https://NAME/ with
websockets, and X-Forwarded-For set, to http://127.0.0.1:{port}/, leave out --host, and start
the room with --https https://NAME/. Then cookies travel encrypted only."""


def main(words: list[str] | None = None) -> None:
    """Open a room as the command line says.

    Raises
    ------
    SystemExit
        With a sentence for each setting that is refused.

    """
    room = _asked(words)
    if found := refusals(room):
        raise SystemExit("The room stays shut.\n- " + "\n- ".join(found))
    try:
        import segno

        served = import_module(f"glasskit.room.{room.kind}")
    except ImportError as error:
        raise SystemExit(f'{error.name} is missing: pip install -e ".[room]"') from error
    if fault := _taken(replace(room, port=0) if room.piped else room):
        raise SystemExit(f"The room stays shut.\n- {fault}")
    os.umask(0o077)
    seats = Seats(1 if room.kind in FORMS else room.seats)
    if room.piped:
        _serve_where_free(served, room, seats)
    else:
        code = segno.make(room.link, error="m")
        print(f"Room for {room.seats}: {room.address}")
        code.terminal(compact=True)
        if room.kind in FORMS:
            print(_said(room, seats))
        else:
            _write_seats(room, seats, code.svg_data_uri(border=2))
            if not (room.open or room.encrypted):
                print(f"\nOnly this machine reaches it, to try. {_addresses()}")
        if room.open and not room.encrypted:
            print(_PLAIN.format(port=room.port))
        print("Ctrl-C closes the room.", flush=True)
        served.serve(room, seats)


def _serve_where_free(served: Any, room: Room, seats: Seats) -> None:
    """Serve at the first port that no other program has, from the one asked for."""
    ports = range(room.port, room.port + _PORTS)
    for port in ports:
        try:
            served.serve(replace(room, port=port), seats)
        except OSError as fault:
            if fault.errno != errno.EADDRINUSE:
                raise
        else:
            return
    said = (
        f"other programs have the ports {ports[0]} to {ports[-1]}. Close what is not needed."
    )
    raise SystemExit(f"The room stays shut.\n- {said}")


def _taken(room: Room) -> str:
    """Say why the room cannot be served where it shall be, if so."""
    family = socket.AF_INET6 if ":" in room.host else socket.AF_INET
    try:
        socket.create_server((room.host, room.port), family=family).close()
    except OSError as fault:
        if fault.errno == errno.EADDRINUSE:
            said = "another program has it. Name another port"
            return f"--port {room.port} cannot be had: {said}, such as {room.port + 1}."
        said = f"it is none of this machine. {_addresses()}"
        return f"--host {room.host} cannot be had: {said}"
    return ""


def _addresses() -> str:
    from glasskit.live.answers import networks

    others = [address for _, address in networks()[1:]]
    found = " or ".join(f"--host {address}" for address in others)
    return f"For the room: {found}." if found else "This machine is on no private network now."


def _write_seats(room: Room, seats: Seats, code: str) -> None:
    from glasskit.sheets.page import save
    from glasskit.sheets.seats import seat_list

    room.folder.mkdir(parents=True, exist_ok=True)
    sheet = seat_list(room.address, seats.words, code)
    print(f"Seats and words, to print: {save(sheet, room.folder / 'seats.html')}")
    print(_CAUTION.format(folder=room.folder))


def _said(room: Room, seats: Seats) -> str:
    """Return how whoever opens a room of forms comes in, and what is to be known."""
    [(word, *spare)] = seats.words.values()
    said: dict[str, Any] = {"word": word, "spare": " or ".join(spare)}
    if room.kind == "answers":
        reached = _REACHED if room.open else _HERE
        return _OPEN_ANSWERS.format(
            code=room.code, address=room.address, reached=reached, **said
        )
    from glasskit.demonstration import read_log

    count = len(read_log(room.log).entries)
    return _OPEN_LOG.format(log=room.log, count=count, **said)


def _asked(words: list[str] | None) -> Room:
    where = argparse.ArgumentParser(add_help=False)
    add = where.add_argument
    add("--host", default="127.0.0.1", help="this machine's address for others, in digits")
    add("--port", type=int, default=8000)
    add("--https", default="", help="address of a proxy on this machine that encrypts")
    parser = argparse.ArgumentParser("python -m glasskit.room", description=__doc__)
    kinds = parser.add_subparsers(dest="kind", required=True)
    for kind, what in (("pages", "sliders only"), ("hub", "notebooks with kernels")):
        room = kinds.add_parser(kind, parents=[where], help=what)
        room.add_argument("--seats", type=int, default=30)
        room.add_argument("--folder", type=Path, default=Path("room"), help="what it writes")
    log = kinds.add_parser("telephone", parents=[where], help="the break log, by telephone")
    log.add_argument("--log", type=Path, required=True, help="the file that page 20 names")
    log.set_defaults(seats=1)
    answers = kinds.add_parser("answers", parents=[where], help="pupils answer, by telephone")
    answers.add_argument("--seats", type=int, default=30, help="pupils of the class")
    answers.add_argument("--topic", choices=topics(), default="breaks", help="of the lesson")
    answers.add_argument("--age", choices=AGES, default="11-14", help="years of the pupils")
    answers.add_argument("--piped", action="store_true", help="for pages 30 and 31")
    answers.set_defaults(code=letters(4))
    asked: dict[str, Any] = vars(parser.parse_args(words))
    for path in {"folder", "log"} & set(asked):
        asked[path] = asked[path].resolve()
    return Room(**asked)


if __name__ == "__main__":
    main()
