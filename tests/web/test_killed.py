"""The server killed in the middle of changes: whatever it acknowledged is there when it is started again."""

from __future__ import annotations

import http.client
import json
import os
import re
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from settwright.store import open_book
from settwright.web.commissions import blank

pytestmark = pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="no SIGKILL on this system")


class Server:
    """The program started as a person starts it."""

    def __init__(self, folder: Path):
        self.process = subprocess.Popen(
            [sys.executable, "-m", "settwright", "--data", str(folder), "--no-browser", "--port", "0"],
            stdout=subprocess.PIPE,
            text=True,
        )
        assert self.process.stdout is not None
        found = re.search(r":(\d+)/\?token=(\S+)", self.process.stdout.readline())
        assert found is not None
        self.port, self.cookie = int(found[1]), ""
        self.line = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        self.line.request("GET", f"/?token={found[2]}")
        answer = self.line.getresponse()
        answer.read()
        self.cookie = (answer.getheader("set-cookie") or "").split(";")[0]

    def post(self, path: str, body: object) -> dict[str, object]:
        headers = {
            "Origin": f"http://127.0.0.1:{self.port}",
            "Content-Type": "application/json",
            "Cookie": self.cookie,
        }
        self.line.request("POST", path, json.dumps(body), headers)
        return json.loads(self.line.getresponse().read())

    def children(self) -> list[int]:
        listed = Path(f"/proc/{self.process.pid}/task/{self.process.pid}/children")
        return [int(word) for word in listed.read_text().split()] if listed.exists() else []

    def kill(self) -> None:
        os.kill(self.process.pid, signal.SIGKILL)
        self.process.wait()

    def close(self) -> None:
        self.line.close()
        assert self.process.stdout is not None
        self.process.stdout.close()


def change_until_killed(server: Server, state: dict[str, object], after: float) -> tuple[int, str]:
    """Changes the title again and again; returns the last revision that was acknowledged, and its title."""
    threading.Timer(after, server.kill).start()
    kept = (int(str(state["revision"])), str(state["title"]))
    try:
        for number in range(1, 100_000):
            change = {"on": kept[0], "changes": [{"set": "title", "to": f"Title {number} of {kept[0]}"}]}
            answer = server.post(f"/api/commissions/{state['id']}/changes", change)
            kept = (int(str(answer["revision"])), str(answer["title"]))
    except (OSError, http.client.HTTPException, ValueError):
        pass  # killed
    server.process.wait()
    server.close()
    return kept


@pytest.mark.parametrize("times", [2, pytest.param(50, marks=pytest.mark.slow)])
def test_a_server_killed_in_mid_change_loses_nothing_that_it_acknowledged(tmp_path, times):
    before: list[tuple[int, str]] = []
    for turn in range(times):
        server = Server(tmp_path)
        state = server.post("/api/commissions", {"toml": blank(f"Coat {turn}", "cm", ["jacket"])})
        before.append(change_until_killed(server, state, 0.15 + 0.07 * (turn % 7)))
        book = open_book(tmp_path / "workroom.db")
        assert book.connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        commission = str(state["id"])
        for revision, title in before[-1:]:
            assert f'title = "{title}"' in book.text(commission, revision)
            head = book.head(commission)
            assert head.revision in (revision, revision + 1)  # one more may have been kept, not yet told
        book.close()
    assert len({revision for revision, _ in before}) == times


def test_the_benches_end_with_a_server_that_was_killed(tmp_path):
    server = Server(tmp_path)
    server.post("/api/swatch", {"cloth": {"colours": {"a": "#112233"}, "warp": "a"}, "units": "cm"})
    benches = server.children()
    if not benches:
        server.kill()
        server.close()
        pytest.skip("this system doesn't tell a process's children")
    server.kill()
    server.close()
    for _ in range(600):
        if not any(Path(f"/proc/{bench}").exists() for bench in benches):
            break
        time.sleep(0.1)
    assert not any(Path(f"/proc/{bench}").exists() for bench in benches)
