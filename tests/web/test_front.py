"""The page's own files as they are handed out, and the program that comes behind them only when it is asked."""

from __future__ import annotations

import gzip
import subprocess
import sys

import pytest
from starlette.testclient import TestClient

from settwright.store import open_book
from settwright.web.front import STATIC, Front
from settwright.web.keys import Keys

HERE = "http://127.0.0.1:8000"


@pytest.fixture
def client(tmp_path):
    keys, book = Keys.fresh(), open_book(tmp_path / "workroom.db")
    client = TestClient(Front(book, keys), base_url=HERE)
    client.get(f"/?token={keys.token}")
    yield client
    book.close()


def test_every_file_of_the_page_is_handed_out_as_it_is(client):
    for path in STATIC.rglob("*"):
        if path.is_file() and path.suffix != ".ts":
            answer = client.get(f"/static/{path.relative_to(STATIC).as_posix()}")
            assert answer.content == path.read_bytes(), path
            assert answer.headers["cache-control"] == "no-cache"
    assert client.get("/").text == (STATIC / "index.html").read_text(encoding="utf-8")


def test_a_file_that_has_not_changed_is_not_sent_again(client):
    first = client.get("/static/app/main.js")
    again = client.get("/static/app/main.js", headers={"if-none-match": first.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")
    assert client.head("/static/app/main.js").headers["content-length"] == first.headers["content-length"]


def test_a_file_is_packed_for_whoever_can_unpack_it(client):
    with client.stream("GET", "/static/app/main.js", headers={"accept-encoding": "gzip"}) as answer:
        raw = b"".join(answer.iter_raw())
    assert answer.headers["content-encoding"] == "gzip"
    assert gzip.decompress(raw) == (STATIC / "app" / "main.js").read_bytes()
    plain = client.get("/static/app/main.js", headers={"accept-encoding": "identity"})
    assert "content-encoding" not in plain.headers


@pytest.mark.parametrize(
    "path",
    ["/static/", "/static", "/static/../front.py", "/static/%2e%2e/front.py", "/static//etc/passwd", "/front.py"],
)
def test_no_other_file_is_handed_out(client, path):
    assert client.get(path).status_code == 404


def test_files_are_only_read(client):
    assert client.post("/static/app/main.js", json={}, headers={"origin": HERE}).status_code == 404


def test_the_page_opens_before_anything_that_plans_is_loaded():
    program = (
        "import sys, settwright.cli, settwright.web.serving;"
        "print([m for m in ('numpy', 'shapely', 'numba', 'reportlab', 'tomlkit', 'msgspec', 'typer')"
        " if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
