"""Commissions and their revisions. Revisions and moves are only ever added: whatever was acknowledged can be had again.

A commission's revisions form a tree. Its head is where the last move went: a change moves it to a new revision, undo to
the parent, redo to the newest child. A change made after an undo begins a new branch, and the old one stays.
"""

from __future__ import annotations

import datetime
import secrets
import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass


class Unknown(LookupError):
    """There is no such commission or revision."""


class MovedOn(Exception):
    """The head is no longer the revision that the caller thought."""


@dataclass(frozen=True, slots=True)
class Head:
    """Where a commission stands."""

    commission: str
    revision: int
    text: str
    undoes: str | None  # what undo would take back; None: nothing
    redoes: str | None


@dataclass(frozen=True, slots=True)
class Revision:
    """One revision, without its text."""

    number: int
    at: str  # UTC, ISO 8601
    says: str
    is_head: bool
    name: str | None  # of the version, where it has one


@dataclass(frozen=True, slots=True)
class Version:
    """A revision that the person gave a name."""

    name: str
    revision: int


@dataclass(frozen=True, slots=True)
class Kept:
    """A commission in the list."""

    commission: str
    revision: int
    at: str
    text: str


class Book:
    """The workroom's book over an open database; safe to use from several threads."""

    def __init__(self, connection: sqlite3.Connection):
        self.connection = connection
        self._lock = threading.Lock()

    def close(self) -> None:
        """Closes the database."""
        with self._lock:
            self.connection.close()

    def begin(self, text: str, says: str) -> Head:
        """Adds a commission with its first revision; returns its head."""
        commission = secrets.token_hex(6)
        with self._writing():
            self.connection.execute("INSERT INTO commissions (id) VALUES (?)", (commission,))
            self._add(commission, None, text, says)
            return self._head(commission)

    def add(self, commission: str, on: int, text: str, says: str) -> Head:
        """Adds a revision on the head; returns the new head. Raises MovedOn where `on` isn't the head any longer."""
        with self._writing():
            self._expect(commission, on)
            self._add(commission, on, text, says)
            return self._head(commission)

    def undo(self, commission: str, on: int) -> Head:
        """Goes back to the revision before; stays where there is none. Raises MovedOn."""
        return self._move(commission, on, "SELECT parent FROM revisions WHERE number = :on AND parent IS NOT NULL")

    def redo(self, commission: str, on: int) -> Head:
        """Goes on to the newest revision made on this one; stays where there is none. Raises MovedOn."""
        return self._move(
            commission,
            on,
            "SELECT number FROM revisions WHERE commission = :commission AND parent = :on ORDER BY number DESC LIMIT 1",
        )

    def head(self, commission: str) -> Head:
        """Returns where a commission stands. Raises Unknown."""
        with self._lock:
            return self._head(commission)

    def text(self, commission: str, revision: int) -> str:
        """Returns the text of one revision. Raises Unknown."""
        with self._lock:
            found = self.connection.execute(
                "SELECT text FROM revisions WHERE commission = ? AND number = ?", (commission, revision)
            ).fetchone()
        if found is None:
            raise Unknown(f"there is no revision {revision} of this commission")
        return found[0]

    def commissions(self) -> tuple[Kept, ...]:
        """Returns all commissions that aren't put away, the one touched last first."""
        with self._lock:
            rows = self.connection.execute(
                """
                SELECT c.id, m.revision, m.at, r.text FROM commissions c
                JOIN moves m ON m.number = (SELECT max(number) FROM moves WHERE commission = c.id)
                JOIN revisions r ON r.number = m.revision
                WHERE NOT c.is_away ORDER BY m.number DESC
                """
            ).fetchall()
        return tuple(Kept(*row) for row in rows)

    def put_away(self, commission: str, away: bool) -> None:
        """Takes a commission from the list, or puts it back; nothing of it is erased."""
        with self._writing():
            self._head(commission)
            self.connection.execute("UPDATE commissions SET is_away = ? WHERE id = ?", (int(away), commission))

    def name_version(self, commission: str, revision: int, name: str) -> None:
        """Gives a revision a name. Raises Unknown."""
        self.text(commission, revision)
        with self._writing():
            self.connection.execute(
                "INSERT INTO versions (commission, revision, name, at) VALUES (?, ?, ?, ?)",
                (commission, revision, name, _now()),
            )

    def versions(self, commission: str) -> tuple[Version, ...]:
        """Returns the named revisions, the newest name first; of a name given twice the later one."""
        with self._lock:
            rows = self.connection.execute(
                "SELECT name, revision FROM versions WHERE commission = ? ORDER BY number DESC", (commission,)
            ).fetchall()
        latest: dict[str, int] = dict(reversed(rows))
        return tuple(Version(name, latest[name]) for name in dict.fromkeys(name for name, _ in rows))

    def history(self, commission: str, most: int = 500) -> tuple[Revision, ...]:
        """Returns the newest revisions, the newest first."""
        names = {version.revision: version.name for version in self.versions(commission)}
        with self._lock:
            head = self._head(commission).revision
            rows = self.connection.execute(
                "SELECT number, at, says FROM revisions WHERE commission = ? ORDER BY number DESC LIMIT ?",
                (commission, most),
            ).fetchall()
        return tuple(Revision(n, at, says, n == head, names.get(n)) for n, at, says in rows)

    def keep(self, key: str, value: str) -> None:
        """Keeps a setting."""
        with self._writing():
            self.connection.execute(
                "INSERT INTO kept (key, value) VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value = excluded.value",
                (key, value),
            )

    def kept(self) -> dict[str, str]:
        """Returns all settings."""
        with self._lock:
            return dict(self.connection.execute("SELECT key, value FROM kept ORDER BY key").fetchall())

    @contextmanager
    def _writing(self) -> Iterator[None]:
        """Holds everything written within as one change: all of it is on the disk when this ends, or none of it."""
        with self._lock:
            self.connection.execute("BEGIN IMMEDIATE")
            try:
                yield
            except BaseException:
                self.connection.execute("ROLLBACK")
                raise
            self.connection.execute("COMMIT")

    def _add(self, commission: str, parent: int | None, text: str, says: str) -> None:
        added = self.connection.execute(
            "INSERT INTO revisions (commission, parent, at, says, text) VALUES (?, ?, ?, ?, ?)",
            (commission, parent, _now(), says, text),
        )
        self._go(commission, added.lastrowid)

    def _go(self, commission: str, revision: int | None) -> None:
        self.connection.execute(
            "INSERT INTO moves (commission, revision, at) VALUES (?, ?, ?)", (commission, revision, _now())
        )

    def _move(self, commission: str, on: int, target: str) -> Head:
        with self._writing():
            self._expect(commission, on)
            found = self.connection.execute(target, {"commission": commission, "on": on}).fetchone()
            if found is not None:
                self._go(commission, found[0])
            return self._head(commission)

    def _expect(self, commission: str, on: int) -> None:
        head = self._head(commission).revision
        if head != on:
            raise MovedOn(f"revision {on} is no longer the newest: {head} is")

    def _head(self, commission: str) -> Head:
        found = self.connection.execute(
            """
            SELECT r.number, r.text, r.says, r.parent FROM moves m JOIN revisions r ON r.number = m.revision
            WHERE m.commission = ? ORDER BY m.number DESC LIMIT 1
            """,
            (commission,),
        ).fetchone()
        if found is None:
            raise Unknown("there is no such commission")
        number, text, says, parent = found
        child = self.connection.execute(
            "SELECT says FROM revisions WHERE commission = ? AND parent = ? ORDER BY number DESC LIMIT 1",
            (commission, number),
        ).fetchone()
        return Head(commission, number, text, None if parent is None else says, None if child is None else child[0])


def _now() -> str:
    return datetime.datetime.now(datetime.UTC).isoformat(timespec="milliseconds")
