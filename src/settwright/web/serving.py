"""The server itself: uvicorn on a socket that listens already."""

from __future__ import annotations

import asyncio
import socket
from collections.abc import Callable
from types import FrameType

import uvicorn

from settwright.store import Book
from settwright.web.front import Front
from settwright.web.keys import Keys


def serve(book: Book, keys: Keys, listening: socket.socket) -> None:
    """Serves the page until it is interrupted."""
    front = Front(book, keys)
    config = uvicorn.Config(
        front,
        log_level="warning",
        access_log=False,
        server_header=False,
        timeout_graceful_shutdown=1,
        lifespan="on",
        ws="none",
    )
    _Server(config, front.hush).run(sockets=[listening])


class _Server(uvicorn.Server):
    """A server that ends the tabs' streams when it is told to end."""

    def __init__(self, config: uvicorn.Config, hush: Callable[[], None]):
        super().__init__(config)
        self._hush = hush
        self._loop: asyncio.AbstractEventLoop | None = None

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """See uvicorn."""
        self._loop = asyncio.get_running_loop()
        await super().startup(sockets)

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        """See uvicorn."""
        if self._loop is not None:
            self._loop.call_soon_threadsafe(self._hush)
        super().handle_exit(sig, frame)
