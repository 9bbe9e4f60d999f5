"""Opens the page: one server to a person, on the loopback address, with her browser before it.

Started a second time it finds the server that runs already and opens the browser on that. Where the server is, and
the token for the next opening, stand in a file that only she can read.
"""

from __future__ import annotations

import datetime
import http.client
import json
import os
import socket
import sqlite3
import sys
import threading
import webbrowser
from collections.abc import Callable
from contextlib import closing, suppress
from pathlib import Path

import platformdirs

from settwright.store import NewerBook, open_book
from settwright.store.opening import keep_copy
from settwright.web.keys import Keys

HOST = "127.0.0.1"
PORT = 8461  # tried first, so that a tab that was left open finds the server again
BOOK, RUNNING = "workroom.db", "running.json"


class CannotOpen(Exception):
    """The page can't be opened; says why and what mends it."""


def data_folder() -> Path:
    """Returns where the workroom's book lies."""
    return Path(os.environ.get("SETTWRIGHT_DATA") or platformdirs.user_data_path("settwright", appauthor=False))


def open_or_say(folder: Path | None = None, *, port: int | None = None, browse: bool = True) -> int:
    """Opens the page over a folder, the usual one where none is given, until it is interrupted; returns the program's
    exit status, having said what stands in the way where something does.
    """

    def say(sentence: str) -> None:
        print(sentence, flush=True)

    try:
        open_page(folder or data_folder(), say, port=port, browse=browse)
    except CannotOpen as why:
        print(why, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        pass
    return 0


def open_page(folder: Path, say: Callable[[str], None], *, port: int | None = None, browse: bool = True) -> None:
    """Opens the page and serves it until it is interrupted. Raises CannotOpen."""
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    except OSError as fault:
        raise CannotOpen(f"{folder} can't be made: {fault.strerror or fault}.") from None
    address = _already(folder)
    if address is not None:
        say("The page is open already.")
        say(address)
        if browse:
            webbrowser.open(address)
        return
    try:
        book = open_book(folder / BOOK)
        keep_copy(book.connection, folder / "copies", datetime.datetime.now(datetime.UTC).date().isoformat())
    except NewerBook as newer:
        raise CannotOpen(str(newer)) from None
    except (OSError, sqlite3.Error) as fault:
        raise CannotOpen(f"The workroom's book {folder / BOOK} can't be opened: {fault}.") from None
    listening = _listening(port)
    number = listening.getsockname()[1]
    kept = book.kept()
    keys = Keys.fresh(kept.get("door"))
    book.keep("door", keys.secret)
    keys.on_turn(lambda token: _leave_word(folder, number, token))
    address = f"http://{HOST}:{number}/?token={keys.token}"
    say(f"The page is open at {address}")
    say("Leave this running while you work; Ctrl-C ends it. What you decided is kept.")
    if browse:
        threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()
    try:
        from settwright.web.serving import serve  # noqa: PLC0415  it loads while the browser starts

        serve(book, keys, listening)
    finally:
        (folder / RUNNING).unlink(missing_ok=True)
        book.close()


def _listening(port: int | None) -> socket.socket:
    """Returns a socket on the loopback address: on the port asked for, else the usual one, else any."""
    for number in (port,) if port is not None else (PORT, 0):
        found = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        if os.name != "nt":
            found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            found.bind((HOST, number))
            found.listen(128)  # from here on the browser is answered, if a little later
            return found
        except OSError:
            found.close()
    raise CannotOpen(f"Port {port} is taken by another program. Choose another, or leave the choice to this one.")


def _leave_word(folder: Path, port: int, token: str) -> None:
    """Writes where the server is, for this person's eyes only."""
    part = folder / (RUNNING + ".part")
    part.unlink(missing_ok=True)
    with os.fdopen(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w") as file:
        json.dump({"port": port, "token": token}, file)
    os.replace(part, folder / RUNNING)


def _already(folder: Path) -> str | None:
    """Returns the address of a server that runs already; None where none answers to its name."""
    with suppress(OSError, ValueError, KeyError, TypeError, http.client.HTTPException):
        word = json.loads((folder / RUNNING).read_text())
        with closing(http.client.HTTPConnection(HOST, int(word["port"]), timeout=2)) as line:
            line.request("HEAD", f"/?token={word['token']}", headers={"Host": f"{HOST}:{int(word['port'])}"})
            if line.getresponse().getheader("x-settwright") == "here":
                return f"http://{HOST}:{int(word['port'])}/?token={word['token']}"
    return None
