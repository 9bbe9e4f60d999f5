"""The page's server: reads requests, asks the workroom's book and benches, answers in JSON (docs/page.md)."""

from __future__ import annotations

import json
from collections.abc import AsyncIterator, Awaitable, Callable
from typing import Any, TypeVar

import msgspec
from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.middleware import Middleware
from starlette.middleware.gzip import GZipMiddleware
from starlette.requests import ClientDisconnect, Request
from starlette.responses import Response, StreamingResponse
from starlette.routing import Mount, Route
from starlette.types import ASGIApp

from settwright.findings import Refusal
from settwright.store import Book, MovedOn, Unknown
from settwright.web import commissions
from settwright.web.bench import Broken, Stopped
from settwright.web.changes import Wish, finding_data
from settwright.web.commissions import ChangedElsewhere, Commissions, FileRefused
from settwright.web.doors import error
from settwright.web.room import Room, Unplanned, parsed
from settwright.web.start import settings
from settwright.web.starter import add_starter

Data = dict[str, Any]
Handler = Callable[[Request], Awaitable[Response]]
Form = TypeVar("Form", bound=msgspec.Struct)

_DRAWN = ("pieces", "lesson", "order", "facings", "hours")
_KINDS = {"pdf": "application/pdf", "svg": "image/svg+xml", "dxf": "image/vnd.dxf", "json": "application/json"}


class New(msgspec.Struct, forbid_unknown_fields=True):
    """What a new commission begins from."""

    example: str | None = None
    toml: str | None = None
    title: str = ""
    units: str = "cm"
    garments: list[str] = []


class On(msgspec.Struct, forbid_unknown_fields=True):
    """A request on a revision."""

    on: int
    changes: list[Wish] = []
    revision: int | None = None


class Named(msgspec.Struct, forbid_unknown_fields=True):
    """A version's name."""

    name: str
    revision: int


class Away(msgspec.Struct, forbid_unknown_fields=True):
    """Whether a commission is put away."""

    away: bool = True


class Swatch(msgspec.Struct, forbid_unknown_fields=True):
    """A cloth to be shown."""

    cloth: dict[str, Any]
    units: str = "cm"


class Slid(msgspec.Struct, forbid_unknown_fields=True):
    """A piece held at a place of the sett."""

    piece: str
    axis: str
    place: float


class Wanted(msgspec.Struct, forbid_unknown_fields=True):
    """Whether the starter is wanted."""

    add: bool


class Backroom:
    """What answers the page: its requests over a workroom's book, and the benches."""

    def __init__(self, book: Book):
        self._room = Room()
        packed = Middleware(GZipMiddleware, minimum_size=2000, compresslevel=4)
        self.app: ASGIApp = Starlette(routes=Page(book, self._room).routes(), middleware=[packed])

    def warm(self) -> None:
        """Has the benches load what they need."""
        self._room.warm(commissions.example("plaid-suit"))

    def hush(self) -> None:
        """Ends whatever a request still waits for."""
        self._room.hush()

    async def close(self) -> None:
        """Ends the benches."""
        await self._room.close()


class Page:
    """The requests that the page makes, each answered by one method."""

    def __init__(self, book: Book, room: Room):
        self._book = book
        self._room = room
        self._commissions = Commissions(book, room)

    def routes(self) -> list[Route | Mount]:
        """Returns every address of the page."""
        one = "/api/commissions/{id}"
        plan = "/api/plans/{key}"
        gets: dict[str, Handler] = {
            "/api/events": self.events,
            one: self.state,
            f"{one}/history": self.history,
            f"{one}/commission.toml": self.export,
            f"{one}/measurements": self.measurements,
            plan: self.report,
            f"{plan}/picture/{{view}}": self.picture,
            f"{plan}/reckoning": self.reckoning,
            f"{plan}/layout/{{cloth}}": self.layout,
            f"{plan}/differences": self.differences,
            f"{plan}/files": self.files,
            f"{plan}/files/{{name}}": self.file,
            f"{plan}/{{drawn}}": self.drawn,
        }
        posts: dict[str, Handler] = {
            "/api/commissions": self.begin,
            f"{one}/changes": self.change,
            f"{one}/try": self.tried,
            f"{one}/undo": self.undo,
            f"{one}/redo": self.redo,
            f"{one}/restore": self.restore,
            f"{one}/versions": self.version,
            f"{one}/put-away": self.put_away,
            f"{plan}/slide": self.slide,
            "/api/swatch": self.swatch,
            "/api/settings": self.settings,
            "/api/starter": self.starter,
        }
        return [
            *(Route(path, _answering(handler), methods=["GET"]) for path, handler in gets.items()),
            *(Route(path, _answering(handler), methods=["POST"]) for path, handler in posts.items()),
            Mount("/", _answering_all),
        ]

    async def begin(self, request: Request) -> Response:
        """A new commission."""
        form = await _form(request, New)
        if form.example is not None:
            text, says = commissions.example(form.example), "begun from an example"
        elif form.toml is not None:
            text, says = commissions.brought_in(form.toml), "brought in from a file"
        else:
            text, says = commissions.blank(form.title, form.units, form.garments), "begun"
        return _json(await self._commissions.begin(text, says), 201)

    async def state(self, request: Request) -> Response:
        """A commission as it stands."""
        return _json(await self._commissions.state(request.path_params["id"]))

    async def change(self, request: Request) -> Response:
        """Changes to a commission, kept before they are answered."""
        form = await _form(request, On)
        return _json(await self._commissions.change(request.path_params["id"], form.on, form.changes))

    async def tried(self, request: Request) -> Response:
        """A try: changes that are planned and not kept."""
        form = await _form(request, On)
        return _json(await self._commissions.tried(request.path_params["id"], form.on, form.changes))

    async def undo(self, request: Request) -> Response:
        """One step back."""
        return _json(await self._commissions.undo(request.path_params["id"], (await _form(request, On)).on))

    async def redo(self, request: Request) -> Response:
        """One step on again."""
        return _json(await self._commissions.redo(request.path_params["id"], (await _form(request, On)).on))

    async def restore(self, request: Request) -> Response:
        """An older revision becomes the head."""
        form = await _form(request, On)
        return _json(await self._commissions.restore(request.path_params["id"], form.on, form.revision or form.on))

    async def version(self, request: Request) -> Response:
        """A name for a revision."""
        form, commission = await _form(request, Named), request.path_params["id"]
        name = " ".join(form.name.split())[:120] or "unnamed"
        await run_in_threadpool(self._book.name_version, commission, form.revision, name)
        return _json(await self._commissions.state(commission))

    async def history(self, request: Request) -> Response:
        """Every revision."""
        found = await run_in_threadpool(self._book.history, request.path_params["id"])
        rows = [{"revision": r.number, "at": r.at, "says": r.says, "is_head": r.is_head, "name": r.name} for r in found]
        return _json({"revisions": rows})

    async def put_away(self, request: Request) -> Response:
        """Takes a commission from the list, or puts it back."""
        form = await _form(request, Away)
        await run_in_threadpool(self._book.put_away, request.path_params["id"], form.away)
        return _json({})

    async def export(self, request: Request) -> Response:
        """The commission as a file."""
        head = await run_in_threadpool(self._book.head, request.path_params["id"])
        return _download(head.text.encode(), f"{commissions.file_name(head.text)}.toml", "application/toml")

    async def measurements(self, request: Request) -> Response:
        """Where each measurement is taken, and how each stands."""
        head = await run_in_threadpool(self._book.head, request.path_params["id"])
        return _sent(await self._room.measurements(head.text))

    async def report(self, request: Request) -> Response:
        """Where every bar falls and how every seam comes out."""
        return _sent(await self._room.report(request.path_params["key"]))

    async def picture(self, request: Request) -> Response:
        """The garment from one side."""
        key, view = request.path_params["key"], request.path_params["view"]
        if view not in ("front", "back", "left", "right"):
            raise Unplanned(view)
        return _sent(await self._room.drawn("picture", key, view))

    async def drawn(self, request: Request) -> Response:
        """Pieces, lesson, order of work, facings, hours."""
        if request.path_params["drawn"] not in _DRAWN:
            raise Unplanned(request.path_params["drawn"])
        return _sent(await self._room.drawn(request.path_params["drawn"], request.path_params["key"]))

    async def reckoning(self, request: Request) -> Response:
        """What the plan comes to."""
        return _sent(await self._room.laid("reckoning", request.path_params["key"]))

    async def layout(self, request: Request) -> Response:
        """A cloth with its pieces laid on it."""
        cloth = request.path_params["cloth"].removesuffix(".svg")
        return _sent(await self._room.laid("layout", request.path_params["key"], cloth), "image/svg+xml")

    async def differences(self, request: Request) -> Response:
        """What a tried plan changes."""
        return _sent(await self._room.differences(request.query_params.get("from", ""), request.path_params["key"]))

    async def files(self, request: Request) -> Response:
        """What can be printed or handed on."""
        return _sent(await self._room.laid("files", request.path_params["key"]))

    async def file(self, request: Request) -> Response:
        """One of them."""
        key, name = request.path_params["key"], request.path_params["name"]
        offered = parsed(await self._room.laid("files", key))["files"]
        if name not in {file["name"] for file in offered}:
            raise Unplanned(name)
        content = await self._room.laid("file", key, name)
        kind = _KINDS.get(name.rsplit(".", 1)[-1], "application/octet-stream")
        return _download(content, f"{commissions.file_name(self._room.text(key))}-{name}", kind)

    async def slide(self, request: Request) -> Response:
        """What follows from sliding the cloth on one piece."""
        form = await _form(request, Slid)
        if form.axis not in ("upright", "level") or not abs(form.place) < 1e5:
            raise Unplanned(form.axis)
        return _sent(await self._room.slide(request.path_params["key"], form.piece, form.axis, form.place))

    async def swatch(self, request: Request) -> Response:
        """A cloth as it would look; nothing is kept."""
        form = await _form(request, Swatch)
        return _sent(await self._room.swatch(msgspec.json.encode({"cloth": form.cloth, "units": form.units}).decode()))

    async def settings(self, request: Request) -> Response:
        """Keeps how she likes the page."""
        given = await _form_of(request, dict[str, str])
        for key, value in list(given.items())[:20]:
            if len(key) <= 40 and len(value) <= 200:
                await run_in_threadpool(self._book.keep, f"page.{key}", value)
        return _json(await run_in_threadpool(settings, self._book))

    async def starter(self, request: Request) -> Response:
        """Puts a starter into the desktop's menu, or remembers that she doesn't want one."""
        form = await _form(request, Wanted)
        if form.add:
            try:
                await run_in_threadpool(add_starter)
            except OSError as fault:
                return error(500, "broken", f"The starter can't be written: {fault.strerror or fault}.")
        await run_in_threadpool(self._book.keep, "starter", "added" if form.add else "declined")
        return _json({})

    async def events(self, request: Request) -> Response:
        """What happens, as it happens."""

        async def stream() -> AsyncIterator[str]:
            yield ": here\n\n"
            async for event, data in self._room.events(request.query_params.get("commission")):
                yield f"event: {event}\ndata: {json.dumps(data)}\n\n" if event else ": still here\n\n"

        return StreamingResponse(stream(), media_type="text/event-stream", headers={"cache-control": "no-store"})


def _answering(handler: Handler) -> Handler:
    """Returns a handler whose faults are answered in the one shape that the page knows."""

    async def answer(request: Request) -> Response:
        try:
            return await handler(request)
        except Exception as fault:
            answered = _answer_to(fault)
            if answered is None:
                raise
            return answered

    return answer


def _answer_to(fault: Exception) -> Response | None:
    """Returns what a fault is answered with; None for one of the program's own."""
    answered: Response | None = None
    if isinstance(fault, Refusal):
        found = [finding_data(finding, of_file=isinstance(fault, FileRefused)) for finding in fault.findings]
        sentence = " ".join(f"{f['what']} {f['remedy']}".strip() for f in found[:3]) or "That can't be done."
        answered = error(422, "refused", sentence[:1].upper() + sentence[1:], findings=found)
    elif isinstance(fault, ChangedElsewhere):
        answered = error(409, "changed-elsewhere", str(fault), commission=fault.state)
    elif isinstance(fault, Stopped | MovedOn):
        answered = error(409, "superseded", "A newer wish came first.")
    elif isinstance(fault, Unknown | Unplanned):
        answered = error(404, "unknown", "There is nothing of that name here; load the page again.")
    elif isinstance(fault, msgspec.MsgspecError | ClientDisconnect):
        answered = error(400, "wrong", f"The page sent what the server doesn't understand: {fault}")
    elif isinstance(fault, Broken):
        answered = error(500, "broken", f"Something in the program failed; what was kept is safe. ({fault})")
    return answered


async def _answering_all(scope: Any, receive: Any, send: Any) -> None:
    await error(404, "unknown", "There is nothing of that name here.")(scope, receive, send)


async def _form(request: Request, form: type[Form]) -> Form:
    return await _form_of(request, form)


Kind = TypeVar("Kind")


async def _form_of(request: Request, kind: type[Kind]) -> Kind:
    return msgspec.json.decode(await request.body() or b"{}", type=kind)


def _json(data: Any, status: int = 200) -> Response:
    return Response(msgspec.json.encode(data), status, media_type="application/json")


def _sent(answer: bytes, kind: str = "application/json") -> Response:
    return Response(answer, media_type=kind)


def _download(content: bytes, name: str, kind: str) -> Response:
    safe = "".join(sign if sign.isascii() and (sign.isalnum() or sign in "-_.") else "-" for sign in name)
    return Response(content, media_type=kind, headers={"content-disposition": f'attachment; filename="{safe}"'})
