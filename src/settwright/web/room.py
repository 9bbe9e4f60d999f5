"""The workroom: it knows which plans are wanted, has them worked out at the benches, and tells every open tab.

A plan's key is the hash of its commission's text, and all that is derived hangs on it. The latest wish wins: when a
commission moves on, whatever was still being worked out for its earlier text is stopped.
"""

from __future__ import annotations

import asyncio
import hashlib
from collections import OrderedDict
from collections.abc import AsyncIterator, Coroutine
from contextlib import suppress
from typing import Any

import msgspec

from settwright.commission.writing import Change
from settwright.findings import Refusal
from settwright.web.bench import Bench, Broken, Stopped
from settwright.web.changes import finding_data

URGENCY = {"slide": 0, "quick": 1, "measurements": 1, "picture": 2, "report": 4, "pieces": 3, "handed": 5}
_PAUSE = 0.35  # s before a plan that was stopped is begun again
_WHOLE = ("report", "handed")  # what needs the whole search
_FIRST = 0.8  # s that the browser has to itself before the benches load what they need
_MOST_TEXTS = 400
_MOST_ANSWERS = 160
_MOST_EVENTS = 200  # that a tab may be behind

Flight = tuple[str, str, tuple[Any, ...]]  # task, key, arguments


class Unplanned(LookupError):
    """No commission of this run has that plan."""


class Room:
    """Plans by key, worked out at two benches."""

    def __init__(self) -> None:
        self._bars = Bench("bars", self._told)
        self._table = Bench("table", self._told)
        self._texts: OrderedDict[str, str] = OrderedDict()
        self._near: dict[str, str] = {}
        self._shown: dict[str, asyncio.Event] = {}  # until bars and picture have been told at once, by plan
        self._answers: OrderedDict[Flight, bytes] = OrderedDict()
        self._flights: dict[Flight, asyncio.Task[bytes]] = {}
        self._numbers: dict[str, set[tuple[Bench, int]]] = {}
        self._wanted: dict[tuple[str, str], str] = {}  # (commission, "head" or "try"): key
        self._tabs: dict[asyncio.Queue[tuple[str, dict[str, Any]]], str | None] = {}
        self._behind: set[asyncio.Task[None]] = set()
        self._slides: dict[str, int] = {}
        self._sliding = asyncio.Lock()
        self._is_ending = False
        self._view = "front"  # of the garment, looked at last

    def know(self, text: str) -> str:
        """Returns the key of a commission's plan, and remembers the text for it."""
        key = hashlib.sha256(text.encode()).hexdigest()[:24]
        self._texts[key] = text
        self._texts.move_to_end(key)
        while len(self._texts) > _MOST_TEXTS:
            self._texts.popitem(last=False)
        return key

    def want(self, commission: str, role: str, key: str) -> None:
        """Says which plan a commission's head, or a try with it, asks for now; what it asked for before may stop."""
        before = self._wanted.get((commission, role))
        if before == key:
            return
        self._wanted[commission, role] = key
        nearest = before if role == "head" else self._wanted.get((commission, "head"))
        if nearest is not None and nearest != key:
            self._near[key] = nearest
            self._shown.setdefault(key, asyncio.Event())
        if before is not None and before not in self._wanted.values():
            self._later(self._stop(before))
        self._later(self._work_out(key))

    def warm(self, text: str) -> None:
        """Has both benches load what they need, on some commission."""
        self._later(self._warm(text))

    async def report(self, key: str) -> bytes:
        """Returns the report: the whole one where it is there, else what can be told at once."""
        whole: Flight = ("report", key, ())
        if whole in self._answers or key not in self._near:
            return await self._fly(self._bars, whole)
        return await self._fly(self._bars, ("quick", key, (self._near[key],)))

    async def drawn(self, task: str, key: str, *arguments: Any) -> bytes:
        """Returns what the first bench makes of a plan: picture, pieces, lesson, order, facings."""
        if task == "picture":
            (self._view,) = arguments
        return await self._fly(self._bars, (task, key, arguments))

    async def laid(self, task: str, key: str, *arguments: Any) -> bytes:
        """Returns what the second bench makes of a plan: reckoning, layout, files."""
        return await self._fly(self._table, (task, key, arguments))

    async def slide(self, key: str, piece: str, axis: str, place: float) -> bytes:
        """Returns what follows from sliding one piece. Raises Stopped for one that a newer slide overtook."""
        number = self._slides[key] = self._slides.get(key, 0) + 1
        async with self._sliding:
            if self._slides[key] != number:
                raise Stopped
            return await self._bars.do("slide", key, self.text(key), (piece, axis, place), urgency=0)

    async def measurements(self, text: str) -> bytes:
        """Returns the drawing of a commission's measurements."""
        return await self._fly(self._bars, ("measurements", self.know(text), ()))

    async def differences(self, taken: str, tried: str) -> bytes:
        """Returns what differs between two plans."""
        pair = [(key, await self._handed(key)) for key in (taken, tried)]
        return await self._table.do("differences", *pair, begun=lambda n: self._begun(tried, self._table, n))

    async def cut(self, key: str, pieces: list[str]) -> tuple[Change, ...]:
        """Returns what marks pieces as cut, as a plan lays them."""
        return await self._table.do("cut", key, await self._handed(key), pieces, urgency=1)

    async def events(self, commission: str | None) -> AsyncIterator[tuple[str, dict[str, Any]]]:
        """Yields what happens, to one open tab, and ("", {}) now and then where nothing does."""
        queue: asyncio.Queue[tuple[str, dict[str, Any]]] = asyncio.Queue(_MOST_EVENTS)
        self._tabs[queue] = commission
        try:
            while True:
                try:
                    yield await asyncio.wait_for(queue.get(), 15)
                except TimeoutError:
                    yield "", {}
                if self._is_ending:
                    return
        finally:
            del self._tabs[queue]

    def tell(self, event: str, data: dict[str, Any]) -> None:
        """Tells every open tab that it may concern; one that is far behind misses it and asks anew."""
        for queue, commission in self._tabs.items():
            if event != "head" or commission in (None, data.get("commission")):
                with suppress(asyncio.QueueFull):
                    queue.put_nowait((event, data))

    def hush(self) -> None:
        """Ends every tab's stream of events and whatever waits for a bench: the server needn't wait for them."""
        self._is_ending = True
        self.tell("end", {})
        self._later(self._close())

    async def close(self) -> None:
        """Ends the benches."""
        for task in [*self._behind, *self._flights.values()]:
            task.cancel()
        await self._close()

    async def _close(self) -> None:
        await self._bars.close()
        await self._table.close()

    async def swatch(self, cloth: str) -> bytes:
        """Returns a cloth as it would look, told as JSON."""
        return await self._bars.do("swatch", cloth, urgency=1)

    def text(self, key: str) -> str:
        """Returns the commission of a plan. Raises Unplanned."""
        try:
            return self._texts[key]
        except KeyError:
            raise Unplanned(key) from None

    def _told(self, event: str, data: dict[str, Any]) -> None:
        if data.get("plan") != "warm":
            self.tell(event, data)

    async def _fly(self, bench: Bench, flight: Flight) -> bytes:
        """Returns an answer: kept, on its way already, or asked for."""
        if flight in self._answers:
            self._answers.move_to_end(flight)
            return self._answers[flight]
        task = self._flights.get(flight)
        if task is None:
            task = self._flights[flight] = asyncio.create_task(self._ask(bench, flight))
            task.add_done_callback(lambda done: self._landed(flight, done))
        return await asyncio.shield(task)

    async def _ask(self, bench: Bench, flight: Flight) -> bytes:
        task, key, arguments = flight
        if task in _WHOLE and key in self._shown:
            await self._shown[key].wait()
        if bench is self._table:
            given: tuple[Any, ...] = (key, await self._handed(key))
        else:
            given = (self.text(key),) if task == "measurements" else (key, self.text(key))
        urgency = URGENCY.get(task, 6)
        return await bench.do(task, *given, *arguments, urgency=urgency, begun=lambda n: self._begun(key, bench, n))

    def _landed(self, flight: Flight, done: asyncio.Task[bytes]) -> None:
        self._flights.pop(flight, None)
        if done.cancelled() or done.exception() is not None:
            return
        self._answers[flight] = done.result()
        while len(self._answers) > _MOST_ANSWERS:
            self._answers.popitem(last=False)

    async def _handed(self, key: str) -> bytes:
        return await self._fly(self._bars, ("handed", key, ()))

    def _begun(self, key: str, bench: Bench, number: int) -> None:
        self._numbers.setdefault(key, set()).add((bench, number))

    async def _stop(self, key: str) -> None:
        if key in self._wanted.values():  # by another commission of the same text, meanwhile
            return
        for bench, number in self._numbers.pop(key, set()):
            await bench.stop(number)

    async def _work_out(self, key: str) -> None:
        """Works a plan out to its end, whoever asks for it."""
        try:
            if key in self._near:
                await self._show(key)
            await self._fly(self._bars, ("report", key, ()))
            await self.laid("reckoning", key)
        except Refusal as refusal:
            self.tell("refused", {"plan": key, "findings": [finding_data(f) for f in refusal.findings]})
        except Stopped:
            if key in self._wanted.values():  # stopped for a commission that no longer looks at it, wanted by another
                await asyncio.sleep(_PAUSE)
                self._later(self._work_out(key))
        except (Broken, Unplanned):
            pass

    async def _show(self, key: str) -> None:
        """Has bars and picture told at once, before anything that takes longer is begun."""
        try:
            await self.report(key)
            await self.drawn("picture", key, self._view)
        finally:
            if key in self._shown:
                self._shown.pop(key).set()

    async def _warm(self, text: str) -> None:
        await asyncio.sleep(_FIRST)
        with suppress(Refusal, Stopped, Broken):
            await self._bars.do("warm", text, urgency=9)
            await self._table.do("warm", await self._bars.do("handed", "warm", text, urgency=9), urgency=9)

    def _later(self, work: Coroutine[Any, Any, None]) -> None:
        task = asyncio.create_task(work)
        self._behind.add(task)
        task.add_done_callback(self._behind.discard)


def parsed(answer: bytes) -> Any:
    """Returns a bench's answer as data."""
    return msgspec.json.decode(answer)
