"""Who may come in: the page that this program opened in this person's browser, and nobody else.

The server listens on the loopback address only, but every page of every site in the browser, and every user of the
machine, can reach that. So a token in the opened address is exchanged for a cookie; a request must name this server as
its host (against names that are made to lead here), and one that changes something must come from its own page. It
doesn't guard against other programs of the same user, which could read the database anyway.
"""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qs

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import JSONResponse, PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from settwright.web.keys import Keys

MOST = 1_000_000  # bytes in the body of a request
COOKIE = "settwright"
_NAMES = ("127.0.0.1", "localhost", "[::1]")

POLICY = "; ".join(
    (
        "default-src 'self'",
        "img-src 'self' data: blob:",
        "object-src 'none'",
        "base-uri 'none'",
        "form-action 'none'",
        "frame-ancestors 'none'",
    )
)
_HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
}

LOCKED = (
    "This page belongs to the workroom that is open on this machine. Open it from the program's starter, or by the "
    "command settwright."
)


def error(status: int, kind: str, sentence: str, **more: object) -> Response:
    """Returns an answer that refuses, in the one shape that the page knows."""
    return JSONResponse({"error": sentence, "kind": kind, "findings": [], **more}, status)


class Doors:
    """Lets in what may come in, and puts the page's policy on every answer."""

    def __init__(self, app: ASGIApp, keys: Keys):
        self._app = app
        self._keys = keys

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """See ASGI."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return

        async def sealed(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in _HEADERS.items():
                    headers[name] = value
                headers.setdefault("cache-control", "no-store")
            await send(message)

        refused = self._judge(scope)
        if refused is not None:
            await refused(scope, receive, sealed)
        else:
            await self._app(scope, _limited(receive), sealed)

    def _judge(self, scope: Scope) -> Response | None:
        """Returns the answer that turns a request away, or None."""
        headers = Headers(scope=scope)
        host = headers.get("host", "")
        port = (scope.get("server") or ("", None))[1]
        if host not in {f"{name}:{port}" for name in _NAMES}:
            return PlainTextResponse("This is not the host that you are looking for.", 421)
        if scope["path"] == "/" and scope["method"] in ("GET", "HEAD"):
            token = parse_qs(scope.get("query_string", b"").decode("latin-1")).get("token", [""])[0]
            if self._keys.opens(token):
                return self._welcome() if scope["method"] == "GET" else Response(headers={"x-settwright": "here"})
            if token and self._holds_key(headers):
                return RedirectResponse("/", 303)
        if not self._holds_key(headers):
            return error(403, "locked", LOCKED) if scope["path"] != "/" else PlainTextResponse(LOCKED, 403)
        if scope["method"] not in ("GET", "HEAD"):
            return _from_elsewhere(headers, host)
        return None

    def _welcome(self) -> Response:
        answer = RedirectResponse("/", 303)
        answer.set_cookie(COOKIE, self._keys.secret, httponly=True, samesite="strict", path="/", max_age=400 * 86_400)
        self._keys.turn()
        return answer

    def _holds_key(self, headers: Mapping[str, str]) -> bool:
        try:
            cookie = SimpleCookie(headers.get("cookie", "")).get(COOKIE)
        except CookieError:
            return False
        return cookie is not None and secrets.compare_digest(cookie.value.encode(), self._keys.secret.encode())


def _from_elsewhere(headers: Headers, host: str) -> Response | None:
    """Returns the answer to a request for a change that doesn't come from the page itself, or None."""
    if headers.get("origin") != f"http://{host}":
        return error(403, "locked", "Changes are taken from the workroom's own page only.")
    if headers.get("content-type", "").partition(";")[0].strip() != "application/json":
        return error(415, "wrong", "Changes are sent as JSON.")
    length = headers.get("content-length", "")
    if not length.isdecimal():
        return error(411, "wrong", "A change must say how long it is.")
    if int(length) > MOST:
        return error(413, "too-large", "That is too large; a commission is a short text.")
    return None


def _limited(receive: Receive) -> Receive:
    """Returns the body's reader, ended by force where it brings more than may come."""
    seen = 0

    async def read() -> Message:
        nonlocal seen
        message = await receive()
        seen += len(message.get("body", b""))
        if seen > MOST:
            return {"type": "http.disconnect"}
        return message

    return read
