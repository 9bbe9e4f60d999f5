"""Opens the database: makes it, brings an older one up to date after a copy was laid aside, refuses a newer one.

SQLite with a write-ahead log; with synchronous = FULL a change that was acknowledged is on the disk, whatever becomes
of the program or the machine's power.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Sequence
from contextlib import closing
from pathlib import Path

from settwright.store.book import Book

STEPS: tuple[str, ...] = (
    """
    CREATE TABLE commissions (
        id TEXT PRIMARY KEY,
        is_away INTEGER NOT NULL DEFAULT 0
    ) STRICT;
    CREATE TABLE revisions (
        number INTEGER PRIMARY KEY AUTOINCREMENT,
        commission TEXT NOT NULL REFERENCES commissions (id),
        parent INTEGER REFERENCES revisions (number),
        at TEXT NOT NULL,
        says TEXT NOT NULL,
        text TEXT NOT NULL
    ) STRICT;
    CREATE INDEX revisions_by_parent ON revisions (commission, parent);
    CREATE TABLE moves (
        number INTEGER PRIMARY KEY AUTOINCREMENT,
        commission TEXT NOT NULL REFERENCES commissions (id),
        revision INTEGER NOT NULL REFERENCES revisions (number),
        at TEXT NOT NULL
    ) STRICT;
    CREATE INDEX moves_by_commission ON moves (commission, number);
    CREATE TABLE versions (
        number INTEGER PRIMARY KEY AUTOINCREMENT,
        commission TEXT NOT NULL REFERENCES commissions (id),
        revision INTEGER NOT NULL REFERENCES revisions (number),
        name TEXT NOT NULL,
        at TEXT NOT NULL
    ) STRICT;
    CREATE TABLE kept (key TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT;
    CREATE TRIGGER revisions_stay BEFORE UPDATE ON revisions BEGIN SELECT RAISE(ABORT, 'revisions stay'); END;
    CREATE TRIGGER revisions_last BEFORE DELETE ON revisions BEGIN SELECT RAISE(ABORT, 'revisions stay'); END;
    CREATE TRIGGER moves_stay BEFORE UPDATE ON moves BEGIN SELECT RAISE(ABORT, 'moves stay'); END;
    CREATE TRIGGER moves_last BEFORE DELETE ON moves BEGIN SELECT RAISE(ABORT, 'moves stay'); END;
    """,
)
"""What brings the database from one form to the next; a step that has been published is never changed."""

COPIES = 7  # backups kept


class NewerBook(Exception):
    """The database was written by a newer program; nothing in it has been touched."""


def open_book(path: Path, steps: Sequence[str] = STEPS) -> Book:
    """Returns the workroom's book at a path, made if it isn't there.

    Raises NewerBook, and sqlite3.DatabaseError for a file that is no database of ours.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    if not path.exists():
        os.close(os.open(path, os.O_CREAT | os.O_WRONLY, 0o600))  # a client's measurements are nobody else's business
    connection = sqlite3.connect(path, isolation_level=None, check_same_thread=False, timeout=10)
    try:
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("PRAGMA foreign_keys = ON")
        _bring_up_to_date(connection, path, steps)
    except BaseException:
        connection.close()
        raise
    return Book(connection)


def _bring_up_to_date(connection: sqlite3.Connection, path: Path, steps: Sequence[str]) -> None:
    (form,) = connection.execute("PRAGMA user_version").fetchone()
    if form > len(steps):
        raise NewerBook(
            f"{path.name} was written by a newer version of the program. It hasn't been touched; bring the program up "
            "to date."
        )
    if 0 < form < len(steps):
        back_up(connection, path.with_name(f"{path.stem}-before-form-{len(steps)}.db"))
    for number, step in enumerate(steps[form:], form + 1):
        connection.executescript(f"BEGIN IMMEDIATE; {step}; PRAGMA user_version = {number}; COMMIT;")


def back_up(connection: sqlite3.Connection, to: Path) -> None:
    """Writes a whole copy of a database, in use or not; it is there whole or not at all."""
    part = to.with_name(to.name + ".part")
    part.unlink(missing_ok=True)
    with closing(sqlite3.connect(part)) as copy:
        connection.backup(copy)
    os.chmod(part, 0o600)
    os.replace(part, to)


def keep_copy(connection: sqlite3.Connection, folder: Path, day: str) -> None:
    """Writes the day's backup ("2026-03-01") if there is none yet, and lets those before the last few go."""
    folder.mkdir(parents=True, exist_ok=True)
    today = folder / f"workroom-{day}.db"
    if not today.exists():
        back_up(connection, today)
    for old in sorted(folder.glob("workroom-*.db"))[:-COPIES]:
        old.unlink()
