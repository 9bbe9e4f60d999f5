"""A bench: a second process that works plans out, so that the page's server answers whatever is being worked out.

A plain child that reads frames on its standard input and writes them on its standard output: that works alike on
every system, and it ends by itself when the server does, however that ended. One task at a time, the most urgent
first; a task may be told to stop, and does so at the next place where it looks.
"""

from __future__ import annotations

import asyncio
import gc
import heapq
import itertools
import os
import pickle
import signal
import struct
import sys
import threading
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from typing import IO, Any

from settwright.findings import Refusal

Told = Callable[[str, dict[str, Any]], None]
"""Told the name of an event and its data."""

_SIZE = struct.Struct(">Q")
_LONGEST = 1 << 31
_IDLE = 3.0  # s without a task before rings are looked for, which takes a while
_PROGRAM = "from settwright.web.bench import serve; serve({name!r})"


class Stopped(Exception):
    """The task was told to stop: nobody waits for it any longer."""


class Broken(Exception):
    """The bench failed at a task, which is a fault of the program."""


class Bench:
    """The server's side of one bench; it starts with the first task, and again after a failure."""

    def __init__(self, name: str, told: Told):
        self._name = name
        self._told = told
        self._process: asyncio.subprocess.Process | None = None
        self._starting = asyncio.Lock()
        self._reader: asyncio.Task[None] | None = None
        self._waiting: dict[int, asyncio.Future[Any]] = {}
        self._numbers = itertools.count(1)
        self._is_closed = False

    async def do(self, task: str, *arguments: Any, urgency: int = 5, begun: Callable[[int], None] | None = None) -> Any:
        """Returns what a task gives; `begun` is told its number, by which it can be stopped. 0 is the most urgent.

        Raises Refusal as the task does, Stopped, and Broken.
        """
        process = await self._ready()
        number = next(self._numbers)
        if begun is not None:
            begun(number)
        answer: asyncio.Future[Any] = asyncio.get_running_loop().create_future()
        self._waiting[number] = answer
        try:
            await self._send(process, ("do", number, urgency, task, arguments))
            return await answer
        finally:
            self._waiting.pop(number, None)

    async def stop(self, number: int) -> None:
        """Tells a task to stop; its caller gets Stopped, unless it is done already."""
        if number in self._waiting and self._process is not None:
            with suppress(OSError, Broken):
                await self._send(self._process, ("stop", number))

    async def close(self) -> None:
        """Ends the bench; whoever waits for it gets Stopped."""
        self._is_closed = True
        process, self._process = self._process, None
        if process is not None:
            with suppress(ProcessLookupError):
                process.kill()
            await process.wait()
        if self._reader is not None:
            await self._reader

    async def _ready(self) -> asyncio.subprocess.Process:
        async with self._starting:
            if self._is_closed:
                raise Stopped
            if self._process is None or self._process.returncode is not None:
                self._process = await asyncio.create_subprocess_exec(
                    sys.executable,
                    "-P",
                    "-c",
                    _PROGRAM.format(name=self._name),
                    stdin=asyncio.subprocess.PIPE,
                    stdout=asyncio.subprocess.PIPE,
                )
                self._reader = asyncio.create_task(self._listen(self._process))
            return self._process

    async def _send(self, process: asyncio.subprocess.Process, frame: tuple[Any, ...]) -> None:
        body = pickle.dumps(frame)
        assert process.stdin is not None
        try:
            process.stdin.write(_SIZE.pack(len(body)) + body)
            await process.stdin.drain()
        except (BrokenPipeError, ConnectionResetError):
            raise Broken("the bench ended") from None

    async def _listen(self, process: asyncio.subprocess.Process) -> None:
        assert process.stdout is not None
        try:
            while True:
                (size,) = _SIZE.unpack(await process.stdout.readexactly(_SIZE.size))
                kind, number, value = pickle.loads(await process.stdout.readexactly(size))
                self._take(kind, number, value)
        except asyncio.IncompleteReadError:
            for answer in self._waiting.values():
                if not answer.done():
                    answer.set_exception(Stopped() if self._is_closed else Broken("the bench ended"))

    def _take(self, kind: str, number: int, value: Any) -> None:
        if kind == "event":
            self._told(*value)
            return
        answer = self._waiting.get(number)
        if answer is None or answer.done():
            return
        if kind == "done":
            answer.set_result(value)
        elif kind == "refused":
            answer.set_exception(Refusal(value))
        elif kind == "stopped":
            answer.set_exception(Stopped())
        else:
            answer.set_exception(Broken(value))


@dataclass
class Desk:
    """What a task sees of the world: whom to tell how far it is, and whether anybody still waits."""

    tell: Told
    is_stopped: Callable[[], bool]

    def look(self) -> None:
        """Raises Stopped where nobody waits any longer."""
        if self.is_stopped():
            raise Stopped


@dataclass
class _Tray:
    """The tasks that wait, the most urgent on top, filled by a thread that reads the standard input."""

    source: IO[bytes]
    tasks: list[tuple[int, int, str, tuple[Any, ...]]] = field(default_factory=list)
    stopped: set[int] = field(default_factory=set)
    changed: threading.Condition = field(default_factory=threading.Condition)

    def fill(self) -> None:
        """Reads until the server is gone, and ends the process then."""
        while (frame := _read(self.source)) is not None:
            with self.changed:
                if frame[0] == "stop":
                    self.stopped.add(frame[1])
                else:
                    _, number, urgency, task, arguments = frame
                    heapq.heappush(self.tasks, (urgency, number, task, arguments))
                self.changed.notify()
        os._exit(0)

    def next(self) -> tuple[int, str, tuple[Any, ...]]:
        """Returns the next task, when there is one."""
        with self.changed:
            if not self.tasks and not self.changed.wait(_IDLE):
                gc.collect()
            while not self.tasks:
                self.changed.wait()
            _, number, task, arguments = heapq.heappop(self.tasks)
            return number, task, arguments


def _read(source: IO[bytes]) -> tuple[Any, ...] | None:
    head = source.read(_SIZE.size)
    if len(head) < _SIZE.size:
        return None
    (size,) = _SIZE.unpack(head)
    body = source.read(size) if size < _LONGEST else b""
    return pickle.loads(body) if len(body) == size else None


def serve(name: str) -> None:
    """Works at one bench, in the second process, until the server is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is the server's to hear
    out = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())  # what a library prints mustn't fall between the frames
    tray = _Tray(sys.stdin.buffer)
    threading.Thread(target=tray.fill, daemon=True).start()

    def say(kind: str, number: int, value: Any) -> None:
        body = pickle.dumps((kind, number, value))
        out.write(_SIZE.pack(len(body)) + body)
        out.flush()

    from settwright.web.work import WORK  # noqa: PLC0415  the planner, which the server itself never loads

    work = WORK[name]()
    gc.disable()  # rings are looked for when nobody waits
    while True:
        number, task, arguments = tray.next()
        desk = Desk(
            lambda event, data, number=number: say("event", number, (event, data)),
            lambda number=number: number in tray.stopped,
        )
        try:
            desk.look()
            say("done", number, getattr(work, task)(desk, *arguments))
        except Refusal as refusal:
            say("refused", number, refusal.findings)
        except Stopped:
            say("stopped", number, None)
        except Exception as fault:
            import traceback  # noqa: PLC0415

            traceback.print_exc()
            say("broke", number, f"{type(fault).__name__}: {fault}")
