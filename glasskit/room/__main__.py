# SPDX-License-Identifier: MIT
"""Open a room: refuse what is dangerous, print address, QR code and words, then serve."""

import argparse
import os
import sys
from importlib import import_module
from pathlib import Path
from typing import Any

from glasskit.room.door import Room, refusals
from glasskit.room.seats import Seats

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
    os.umask(0o077)
    seats = Seats(room.seats)
    code = segno.make(room.address, error="m")
    print(f"Room for {room.seats}: {room.address}")
    code.terminal(compact=True)
    if room.kind == "telephone":
        _say_log(room, seats)
    else:
        _write_seats(room, seats, code.svg_data_uri(border=2))
    if not room.encrypted and not room.host.startswith("127."):
        print(_PLAIN.format(port=room.port))
    sys.stdout.flush()
    served.serve(room, seats)


def _write_seats(room: Room, seats: Seats, code: str) -> None:
    from glasskit.sheets.page import save
    from glasskit.sheets.seats import seat_list

    room.folder.mkdir(parents=True, exist_ok=True)
    sheet = seat_list(room.address, seats.words, code)
    print(f"Seats and words, to print: {save(sheet, room.folder / 'seats.html')}")
    print(_CAUTION.format(folder=room.folder))


def _say_log(room: Room, seats: Seats) -> None:
    from glasskit.demonstration import read_log

    [(word, *spare)] = seats.words.values()
    count = len(read_log(room.log).entries)
    said = {"word": word, "spare": " or ".join(spare), "log": room.log, "count": count}
    print(_OPEN_LOG.format(**said))


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
    asked: dict[str, Any] = vars(parser.parse_args(words))
    for path in {"folder", "log"} & set(asked):
        asked[path] = asked[path].resolve()
    return Room(**asked)


if __name__ == "__main__":
    main()
