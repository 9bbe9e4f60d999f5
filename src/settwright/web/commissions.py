"""What the page does with commissions: begins them, changes them, goes back and forth, and tells how they stand."""

from __future__ import annotations

import asyncio
import re
from typing import Any

import tomlkit
from starlette.concurrency import run_in_threadpool

from settwright.commission.reading import read_commission, read_toml
from settwright.commission.writing import Change, bring_up_to_date
from settwright.findings import Finding, Refusal, refuse
from settwright.store import Book, Head, MovedOn
from settwright.web.changes import (
    NAME,
    Changed,
    Wish,
    as_read,
    clash,
    differing,
    dotted,
    faults,
    field_of,
    finding_data,
    holds,
    make,
    parse_path,
    spoken,
)
from settwright.web.room import Room
from settwright.web.start import GARMENTS, example_files, titled
from settwright.web.ticket import ticket_of

Data = dict[str, Any]


class ChangedElsewhere(Exception):
    """Another window changed the same field; `state` is how the commission stands now."""

    def __init__(self, sentence: str, state: Data):
        super().__init__(sentence)
        self.state = state


class FileRefused(Refusal):
    """A file that was brought in can't be read: what is found speaks of the file, which she has."""


class Commissions:
    """The book's commissions as the page sees them."""

    def __init__(self, book: Book, room: Room):
        self._book = book
        self._room = room
        self._changing = asyncio.Lock()

    async def begin(self, text: str, says: str) -> Data:
        """Adds a commission, and returns how it stands."""
        return self._told(await run_in_threadpool(self._book.begin, text, says))

    async def state(self, commission: str) -> Data:
        """Returns how a commission stands. Raises Unknown."""
        return self._told(await run_in_threadpool(self._book.head, commission))

    async def change(self, commission: str, on: int, wishes: list[Wish]) -> Data:
        """Makes changes that were wished for on a revision, and returns how the commission stands then.

        Raises Refusal where they can't be, and ChangedElsewhere where another window was there first.
        """
        async with self._changing:
            head = await run_in_threadpool(self._book.head, commission)
            made, merged = await self._made(head, on, wishes)
            if made.text != head.text:
                self._planned(commission, made.text)  # already while it is being kept
                head = await run_in_threadpool(self._book.add, commission, head.revision, made.text, made.says)
                self._tell(head)
            return {**self._told(head), "merged": merged}

    async def tried(self, commission: str, on: int, wishes: list[Wish]) -> Data:
        """Returns the plan that changes would give; nothing is kept."""
        head = await run_in_threadpool(self._book.head, commission)
        made, _ = await self._made(head, on, wishes)
        findings = [finding_data(finding) for finding in read_commission(made.text, NAME).findings]
        key = self._room.know(made.text)
        self._room.want(commission, "try", key)
        return {"plan": key, "findings": findings, "changed": sorted(dotted(path) for path in made.touched)}

    async def undo(self, commission: str, on: int) -> Data:
        """Takes the last change back."""
        return await self._moved(commission, on, self._book.undo)

    async def redo(self, commission: str, on: int) -> Data:
        """Makes a change again that was taken back."""
        return await self._moved(commission, on, self._book.redo)

    async def restore(self, commission: str, on: int, revision: int) -> Data:
        """Makes an older revision the newest, as a change."""

        def add(commission: str, on: int) -> Head:
            return self._book.add(commission, on, text, f"back to {named}")

        text = await run_in_threadpool(self._book.text, commission, revision)
        versions = await run_in_threadpool(self._book.versions, commission)
        named = next((f"“{v.name}”" for v in versions if v.revision == revision), f"revision {revision}")
        return await self._moved(commission, on, add)

    async def _moved(self, commission: str, on: int, move: Any) -> Data:
        async with self._changing:
            try:
                head = await run_in_threadpool(move, commission, on)
            except MovedOn:
                state = await self.state(commission)
                sentence = "Another window changed this commission meanwhile; look at it first."
                raise ChangedElsewhere(sentence, state) from None
            self._tell(head)
            return self._told(head)

    async def _made(self, head: Head, on: int, wishes: list[Wish]) -> tuple[Changed, list[str]]:
        """Returns the changes made on the head, and which fields others changed since the revision wished on."""
        theirs = frozenset()
        if on != head.revision:
            theirs = differing(await run_in_threadpool(self._book.text, head.commission, on), head.text)
        made = make(head.text, wishes, await self._marks(head, wishes))
        both = clash(made.touched, theirs)
        if both and made.text != head.text:
            names = ", ".join(spoken(path) for path in sorted(both, key=str)[:3])
            raise ChangedElsewhere(f"Another window changed this meanwhile: {names}.", self._told(head))
        return made, sorted(dotted(path) for path in theirs)

    async def _marks(self, head: Head, wishes: list[Wish]) -> list[Change]:
        """Returns what marks as cut the pieces that are to be."""
        marks: list[Change] = []
        for wish in wishes:
            if wish.cut is not None:
                if faults(head.text):
                    raise refuse("cut", "nothing can be cut before the commission is whole.", "Complete it first.")
                marks += await self._room.cut(self._room.know(head.text), wish.cut.pieces)
        return marks

    def _planned(self, commission: str, text: str) -> tuple[str | None, tuple[Finding, ...]]:
        """Has a commission's plan worked out; returns its key, None where it can't be planned, and the findings."""
        try:
            read, wrong = as_read(text)
        except Refusal as refusal:
            return None, refusal.findings
        if wrong:
            return None, wrong
        key = self._room.know(text)
        self._room.want(commission, "head", key)
        return key, read.findings

    def _tell(self, head: Head) -> None:
        self._room.tell("head", {"commission": head.commission, "revision": head.revision})

    def _told(self, head: Head) -> Data:
        """Returns how a commission stands, and has its plan worked out."""
        data = read_toml(head.text, NAME)
        client, units = data.get("client"), data.get("units")
        key, findings = self._planned(head.commission, head.text)
        return {
            "id": head.commission,
            "title": titled(data),
            "client": client.get("name", "") if isinstance(client, dict) else "",
            "units": units if units in ("cm", "inches") else "cm",
            "revision": head.revision,
            "undo": head.undoes,
            "redo": head.redoes,
            "toml": head.text,
            "values": data,
            "ticket": ticket_of(head.text),
            "findings": [finding_data(finding) for finding in findings],
            "versions": [{"name": v.name, "revision": v.revision} for v in self._book.versions(head.commission)],
            "plan": key,
        }


def example(name: str) -> str:
    """Returns an example's text. Raises Refusal where there is none of that name."""
    found = example_files()
    if name not in found:
        raise refuse("example", "there is no such example.", f"Choose from: {', '.join(sorted(found))}.")
    return found[name].read_text(encoding="utf-8")


def brought_in(text: str) -> str:
    """Returns a file's text in the format of today. Raises FileRefused, but not for what it lacks."""
    try:
        text = bring_up_to_date(text.removeprefix("\ufeff"), NAME)
    except Refusal as refusal:
        raise FileRefused(refusal.findings) from None
    wrong = [finding for finding in faults(text) if _is_there(text, field_of(finding))]
    if wrong:
        raise FileRefused(wrong)
    return text


def _is_there(text: str, field: str | None) -> bool:
    """Whether a field that is found fault with stands in the text, or the fault is with the whole."""
    try:
        return field is None or holds(text, parse_path(field))
    except Refusal:
        return True


def blank(title: str, units: str, garments: list[str]) -> str:
    """Returns a new commission, to be completed on the page."""
    document = tomlkit.document()
    document.add("format", tomlkit.item(1))
    document.add("title", tomlkit.item(" ".join(title.split())[:120] or "New commission"))
    document.add("units", tomlkit.item(units if units in ("cm", "inches") else "cm"))
    document.add("currency", tomlkit.item("€"))
    text = tomlkit.dumps(document) + _BLANK_BODY
    chosen = [name for name in GARMENTS if name in garments] or ["jacket"]
    bars = _BARS_IN_INCHES if units == "inches" else _BARS_IN_MM
    return text + "".join(f"\n[{name}]\n" for name in chosen) + _BLANK_CLOTHS.replace("BARS", bars)


_BLANK_BODY = """
[client]

[measurements]
"""

_BLANK_CLOTHS = """
[cloths.shell]
title = "Plaid"
colours = { navy = "#243049", ivory = "#e6dec8", rust = "#a4512f" }
weft = "as warp"

[cloths.shell.warp]
BARS

[cloths.lining]
title = "Lining"
colours = { grey = "#6b6660" }

[choices]
"""


_BARS_IN_MM = """bars_in = "mm"
bars = ["navy 24", "ivory 4", "navy 12", "rust 6", "navy 12", "ivory 4"]"""
_BARS_IN_INCHES = """bars_in = "inches"
bars = ["navy 1", "ivory 1/8", "navy 1/2", "rust 1/4", "navy 1/2", "ivory 1/8"]"""


def file_name(text: str) -> str:
    """Returns a commission's title as a file may be called.

    >>> file_name('format = 1\\ntitle = "Plaid suit, autumn"')
    'plaid-suit-autumn'
    """
    title = titled(read_toml(text, NAME)).lower()
    return re.sub(r"[^a-z0-9]+", "-", title).strip("-")[:60] or "commission"
