# SPDX-License-Identifier: MIT
"""Open a room: refuse what is dangerous, print address, QR code and seats, then serve."""

import argparse
import os
import sys
from importlib import import_module
from pathlib import Path

from glasskit.room.door import Room, refusals
from glasskit.room.seats import Seats

_CAUTION = """\
For a closed network and one lesson. Words work once, seats are taken for two hours, and
whoever opens the room anew makes all words and log-ins of before worthless. What stays: the
folder {folder}, with the list of seats and what pupils saved. Print the list, cut it, and
delete the file; at a hub, give each class a --folder of its own or the next finds the last
one's work. No names are asked for or kept."""

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
    from glasskit.sheets.page import save
    from glasskit.sheets.seats import seat_list

    os.umask(0o077)
    room.folder.mkdir(parents=True, exist_ok=True)
    seats = Seats(room.seats)
    code = segno.make(room.address, error="m")
    sheet = seat_list(room.address, seats.words, code.svg_data_uri(border=2))
    print(f"Room for {room.seats}: {room.address}")
    code.terminal(compact=True)
    print(f"Seats and words, to print: {save(sheet, room.folder / 'seats.html')}")
    print(_CAUTION.format(folder=room.folder))
    if not room.encrypted and not room.host.startswith("127."):
        print(_PLAIN.format(port=room.port))
    sys.stdout.flush()
    served.serve(room, seats)


def _asked(words: list[str] | None) -> Room:
    parser = argparse.ArgumentParser("python -m glasskit.room", description=__doc__)
    add = parser.add_argument
    add("kind", choices=["pages", "hub"], help="sliders only, or notebooks with kernels")
    add("--seats", type=int, default=30)
    add("--host", default="127.0.0.1", help="this machine's address for pupils, in digits")
    add("--port", type=int, default=8000)
    add("--https", default="", help="address of a proxy on this machine that encrypts")
    add("--folder", type=Path, default=Path("room"), help="what the room writes")
    asked = parser.parse_args(words)
    return Room(**{**vars(asked), "folder": asked.folder.resolve()})


if __name__ == "__main__":
    main()
