"""Who comes in at the page's door, and who doesn't."""

from __future__ import annotations

import pytest
from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import PlainTextResponse
from starlette.routing import Route
from starlette.testclient import TestClient

from settwright.web.doors import MOST, Doors
from settwright.web.keys import Keys

HERE = "http://127.0.0.1:8000"


async def _echo(request: Request) -> PlainTextResponse:
    return PlainTextResponse(str(len(await request.body())))


@pytest.fixture
def keys():
    return Keys.fresh()


@pytest.fixture
def client(keys):
    routes = [Route("/", _echo), Route("/api/thing", _echo, methods=["GET", "POST"])]
    app = Starlette(routes=routes, middleware=[Middleware(Doors, keys=keys)])
    return TestClient(app, base_url=HERE, follow_redirects=False)


@pytest.fixture
def inside(client, keys):
    client.get(f"/?token={keys.token}")
    return client


def post(client, **headers):
    given = {"origin": HERE, "content-type": "application/json", **headers}
    return client.post("/api/thing", content=b"{}", headers={k: v for k, v in given.items() if v is not None})


def test_the_token_is_exchanged_for_a_cookie_that_scripts_and_other_sites_never_see(client, keys):
    answer = client.get(f"/?token={keys.token}")
    assert (answer.status_code, answer.headers["location"]) == (303, "/")
    cookie = answer.headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=strict" in cookie
    assert client.get("/").status_code == 200


def test_a_token_is_good_once(client, keys):
    token = keys.token
    client.get(f"/?token={token}")
    client.cookies.clear()
    assert client.get(f"/?token={token}").status_code == 403
    assert keys.token != token


def test_a_new_token_is_told_when_one_was_used(client, keys):
    told: list[str] = []
    keys.on_turn(told.append)
    client.get(f"/?token={keys.token}")
    assert len(told) == 2
    assert told[1] == keys.token


def test_asking_after_the_server_does_not_use_the_token_up(client, keys):
    token = keys.token
    assert client.head(f"/?token={token}").headers["x-settwright"] == "here"
    assert keys.token == token
    assert "x-settwright" not in client.head("/?token=other").headers


@pytest.mark.parametrize("path", ["/", "/?token=", "/?token=wrong", "/api/thing"])
def test_without_the_key_nobody_comes_in(client, path):
    assert client.get(path).status_code == 403


def test_the_refusal_has_the_shape_that_the_page_knows(client):
    answer = client.get("/api/thing").json()
    assert set(answer) == {"error", "kind", "findings"}
    assert answer["kind"] == "locked"


@pytest.mark.parametrize("host", ["evil.example", "evil.example:8000", "127.0.0.1", "127.0.0.1:9", ""])
def test_a_name_made_to_lead_here_is_not_this_host(inside, host):
    assert inside.get("/api/thing", headers={"host": host}).status_code == 421


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({}, 200),
        ({"origin": None}, 403),
        ({"origin": "http://evil.example"}, 403),
        ({"origin": "null"}, 403),
        ({"origin": "http://127.0.0.1:9"}, 403),
        ({"content-type": "text/plain"}, 415),
        ({"content-type": "application/x-www-form-urlencoded"}, 415),
        ({"content-type": "application/json; charset=utf-8"}, 200),
    ],
)
def test_changes_come_from_the_page_itself_as_json(inside, headers, status):
    assert post(inside, **headers).status_code == status


def test_what_is_too_large_is_not_read(inside):
    headers = {"origin": HERE, "content-type": "application/json"}
    assert inside.post("/api/thing", content=b"x" * MOST, headers=headers).text == str(MOST)
    answer = inside.post("/api/thing", content=b"x" * (MOST + 1), headers=headers)
    assert (answer.status_code, answer.json()["kind"]) == (413, "too-large")


def test_a_body_that_does_not_say_how_long_it_is_is_not_read(inside):
    def parts():
        yield b"{}"

    headers = {"origin": HERE, "content-type": "application/json"}
    assert inside.post("/api/thing", content=parts(), headers=headers).status_code == 411


def test_every_answer_carries_the_policy_that_lets_nothing_in_from_outside(client):
    for path in ("/", "/api/thing"):
        headers = client.get(path).headers
        assert "default-src 'self'" in headers["content-security-policy"]
        assert "unsafe" not in headers["content-security-policy"]
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["referrer-policy"] == "no-referrer"
