"""The workroom's book: revisions only added, undo and redo over restarts, migration, backup, a kill in mid-change."""

from __future__ import annotations

import os
import signal
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from settwright.store import MovedOn, NewerBook, Unknown, open_book
from settwright.store.opening import COPIES, STEPS, keep_copy


@pytest.fixture
def book(tmp_path):
    book = open_book(tmp_path / "workroom.db")
    yield book
    book.close()


def test_a_change_is_a_revision_of_its_own_and_undo_and_redo_move_between_them(book):
    first = book.begin("a", "begun")
    second = book.add(first.commission, first.revision, "b", "buttons: 2")
    assert (second.text, second.undoes, second.redoes) == ("b", "buttons: 2", None)
    back = book.undo(first.commission, second.revision)
    assert (back.text, back.undoes, back.redoes) == ("a", None, "buttons: 2")
    assert book.redo(first.commission, back.revision).text == "b"


def test_undo_without_anything_to_undo_stays_and_so_does_redo(book):
    head = book.begin("a", "begun")
    assert book.undo(head.commission, head.revision).revision == head.revision
    assert book.redo(head.commission, head.revision).revision == head.revision


def test_a_change_after_undo_begins_a_branch_and_the_old_one_can_still_be_had(book):
    a = book.begin("a", "begun")
    b = book.add(a.commission, a.revision, "b", "to b")
    book.undo(a.commission, b.revision)
    c = book.add(a.commission, a.revision, "c", "to c")
    assert book.undo(a.commission, c.revision).redoes == "to c"
    assert book.text(a.commission, b.revision) == "b"
    assert [r.says for r in book.history(a.commission)] == ["to c", "to b", "begun"]


def test_a_change_on_an_old_revision_is_refused_and_nothing_is_written(book):
    a = book.begin("a", "begun")
    book.add(a.commission, a.revision, "b", "to b")
    with pytest.raises(MovedOn):
        book.add(a.commission, a.revision, "c", "to c")
    assert len(book.history(a.commission)) == 2


def test_revisions_cannot_be_changed_or_erased(book):
    book.begin("a", "begun")
    for statement in ("UPDATE revisions SET text = 'z'", "DELETE FROM revisions", "DELETE FROM moves"):
        with pytest.raises(sqlite3.IntegrityError, match="stay"):
            book.connection.execute(statement)


def test_undo_and_redo_hold_over_a_restart(tmp_path):
    path = tmp_path / "workroom.db"
    book = open_book(path)
    a = book.begin("a", "begun")
    b = book.add(a.commission, a.revision, "b", "to b")
    book.undo(a.commission, b.revision)
    book.close()
    again = open_book(path)
    head = again.head(a.commission)
    assert (head.text, head.redoes) == ("a", "to b")
    assert again.redo(a.commission, head.revision).text == "b"
    again.close()


def test_what_is_put_away_leaves_the_list_and_comes_back_whole(book):
    a, b = book.begin("a", "begun"), book.begin("b", "begun")
    book.put_away(a.commission, True)
    assert [kept.text for kept in book.commissions()] == ["b"]
    book.put_away(a.commission, False)
    assert [kept.text for kept in book.commissions()] == ["b", "a"]
    assert book.head(b.commission).text == "b"


def test_a_version_keeps_its_revision_and_a_name_given_again_moves(book):
    a = book.begin("a", "begun")
    b = book.add(a.commission, a.revision, "b", "to b")
    book.name_version(a.commission, a.revision, "as shown")
    book.name_version(a.commission, a.revision, "first")
    book.name_version(a.commission, b.revision, "as shown")
    assert [(v.name, v.revision) for v in book.versions(a.commission)] == [
        ("as shown", b.revision),
        ("first", a.revision),
    ]
    with pytest.raises(Unknown):
        book.name_version(a.commission, 999, "nowhere")


def test_settings_are_kept(book):
    book.keep("theme", "dark")
    book.keep("theme", "light")
    assert book.kept() == {"theme": "light"}


def test_an_older_database_is_copied_aside_and_brought_up_to_date(tmp_path):
    path = tmp_path / "workroom.db"
    book = open_book(path)
    head = book.begin("a", "begun")
    book.close()
    later = (*STEPS, "ALTER TABLE commissions ADD COLUMN place TEXT NOT NULL DEFAULT 'shelf'")
    book = open_book(path, later)
    assert book.connection.execute("SELECT place FROM commissions").fetchall() == [("shelf",)]
    assert book.head(head.commission).text == "a"
    book.close()
    aside = open_book(tmp_path / "workroom-before-form-2.db")
    assert aside.head(head.commission).text == "a"
    aside.close()


def test_a_step_that_fails_leaves_the_database_as_it_was(tmp_path):
    path = tmp_path / "workroom.db"
    book = open_book(path)
    head = book.begin("a", "begun")
    book.close()
    with pytest.raises(sqlite3.Error):
        open_book(path, (*STEPS, "CREATE TABLE more (a TEXT) STRICT; CREATE NONSENSE"))
    book = open_book(path)
    assert book.head(head.commission).text == "a"
    names = [name for (name,) in book.connection.execute("SELECT name FROM sqlite_master")]
    assert "more" not in names
    book.close()


def test_a_newer_database_is_refused_untouched(tmp_path):
    path = tmp_path / "workroom.db"
    open_book(path, (*STEPS, "CREATE TABLE more (a TEXT) STRICT")).close()
    before = path.read_bytes()
    with pytest.raises(NewerBook, match="newer version"):
        open_book(path)
    assert path.read_bytes() == before


def test_the_file_is_the_persons_own(tmp_path):
    path = tmp_path / "workroom.db"
    open_book(path).close()
    assert path.stat().st_mode & 0o077 == 0


def test_a_copy_a_day_is_kept_and_the_oldest_go(book, tmp_path):
    book.begin("a", "begun")
    for day in range(1, COPIES + 4):
        keep_copy(book.connection, tmp_path / "copies", f"2026-03-{day:02d}")
    names = sorted(path.name for path in (tmp_path / "copies").iterdir())
    assert len(names) == COPIES
    assert names[-1] == f"workroom-2026-03-{COPIES + 3:02d}.db"
    copy = open_book(tmp_path / "copies" / names[-1])
    assert [kept.text for kept in copy.commissions()] == ["a"]
    copy.close()


_WRITER = """
import sys
from pathlib import Path
from settwright.store import open_book
book = open_book(Path(sys.argv[1]))
heads = book.commissions()
head = book.head(heads[0].commission) if heads else book.begin("0", "begun")
while True:
    text = str(int(head.text) + 1)
    head = book.add(head.commission, head.revision, text, "one more")
    print(text, flush=True)
"""


def _killed(path: Path, changes: int) -> int:
    """Lets a process add revisions, kills it in the middle, and returns the last one that it acknowledged."""
    writer = subprocess.Popen([sys.executable, "-c", _WRITER, str(path)], stdout=subprocess.PIPE, text=True)
    assert writer.stdout is not None
    acknowledged = -1
    for _ in range(changes):
        acknowledged = int(writer.stdout.readline())
    os.kill(writer.pid, signal.SIGKILL)
    rest = writer.stdout.read().split("\n")[:-1]
    writer.stdout.close()
    writer.wait()
    return int(rest[-1]) if rest else acknowledged


@pytest.mark.parametrize("times", [3, pytest.param(50, marks=pytest.mark.slow)])
def test_a_kill_in_mid_change_loses_nothing_acknowledged(tmp_path, times):
    path = tmp_path / "workroom.db"
    for turn in range(times):
        acknowledged = _killed(path, 3 + turn % 5)
        book = open_book(path)
        (kept,) = book.commissions()
        assert int(kept.text) in (acknowledged, acknowledged + 1)  # one more may have been written, not yet told
        assert book.connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        texts = [int(book.text(kept.commission, r.number)) for r in book.history(kept.commission, 10_000)]
        assert texts == list(range(int(kept.text), -1, -1))
        book.close()
