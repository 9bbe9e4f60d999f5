"""The front of the workroom: the door, the page's own files, what the first view shows; and behind it all the rest.

The files are read and packed once. What works with a commission takes longer to load, so it is loaded when the first
view has been served.
"""

from __future__ import annotations

import asyncio
import gzip
import hashlib
import importlib
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from starlette.datastructures import Headers
from starlette.responses import JSONResponse
from starlette.types import ASGIApp, Receive, Scope, Send

from settwright.store import Book
from settwright.web.doors import Doors, error
from settwright.web.keys import Keys
from settwright.web.start import start_data

if TYPE_CHECKING:
    from settwright.web.app import Backroom

STATIC = Path(__file__).with_name("static")

_KINDS = {
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".svg": "image/svg+xml",
    ".woff2": "font/woff2",
    ".txt": "text/plain; charset=utf-8",
}


@dataclass(frozen=True, slots=True)
class _File:
    """A file of the page, ready to be sent."""

    kind: str
    etag: str
    plain: bytes
    packed: bytes | None  # by gzip; None where that gains nothing

    @classmethod
    def read(cls, path: Path) -> _File:
        plain = path.read_bytes()
        packed = None if path.suffix == ".woff2" else gzip.compress(plain, 6, mtime=0)
        return cls(_KINDS[path.suffix], f'"{hashlib.sha256(plain).hexdigest()[:20]}"', plain, packed)


class Files:
    """The page's own files, asked after at each load; a path that a client sends is looked up and never opened."""

    def __init__(self, folder: Path = STATIC):
        self._paths = {
            f"/static/{path.relative_to(folder).as_posix()}": path
            for path in folder.rglob("*")
            if path.suffix in _KINDS and path.is_file()
        }
        self._paths["/"] = folder / "index.html"
        self._read: dict[str, _File] = {}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """See ASGI."""
        path, method = scope["path"], scope["method"]
        if path not in self._paths or method not in ("GET", "HEAD"):
            await error(404, "unknown", "There is nothing of that name here.")(scope, receive, send)
            return
        file = self._read.get(path)
        if file is None:
            file = self._read[path] = _File.read(self._paths[path])
        asked = Headers(scope=scope)
        headers = {"content-type": file.kind, "etag": file.etag, "cache-control": "no-cache", "vary": "accept-encoding"}
        status, body = 200, file.plain
        if asked.get("if-none-match") == file.etag:
            status, body = 304, b""
        elif file.packed is not None and "gzip" in asked.get("accept-encoding", ""):
            body, headers["content-encoding"] = file.packed, "gzip"
        if status == 200:
            headers["content-length"] = str(len(body))
        raw = [(name.encode(), value.encode()) for name, value in headers.items()]
        await send({"type": "http.response.start", "status": status, "headers": raw})
        await send({"type": "http.response.body", "body": b"" if method == "HEAD" else body})


class Front:
    """The whole server as an ASGI application over a workroom's book."""

    def __init__(self, book: Book, keys: Keys):
        self._book = book
        self._files = Files()
        self._doors: ASGIApp = Doors(self._inside, keys)
        self._loading: asyncio.Task[Backroom] | None = None

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """See ASGI."""
        if scope["type"] == "lifespan":
            await self._live(receive, send)
        else:
            await self._doors(scope, receive, send)

    def hush(self) -> None:
        """Ends whatever a request still waits for, so that the server can end."""
        if self._loading is not None and self._loading.done():
            self._loading.result().hush()

    async def _inside(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["path"] == "/api/start":
            await JSONResponse(await asyncio.to_thread(start_data, self._book))(scope, receive, send)
            self._backroom()
        elif scope["path"].startswith("/api/"):
            await (await self._backroom()).app(scope, receive, send)
        else:
            await self._files(scope, receive, send)

    async def _live(self, receive: Receive, send: Send) -> None:
        await receive()
        await send({"type": "lifespan.startup.complete"})
        await receive()
        if self._loading is not None:
            await (await self._loading).close()
        await send({"type": "lifespan.shutdown.complete"})

    def _backroom(self) -> asyncio.Task[Backroom]:
        if self._loading is None:
            self._loading = asyncio.create_task(_load(self._book))
        return self._loading


async def _load(book: Book) -> Backroom:
    module = await asyncio.to_thread(importlib.import_module, "settwright.web.app")
    backroom: Backroom = module.Backroom(book)
    backroom.warm()
    return backroom
