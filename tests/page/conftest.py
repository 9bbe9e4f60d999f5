"""A real server with a book of its own, and Debian's Chromium before it."""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

playwright_api = pytest.importorskip("playwright.sync_api")
from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright  # noqa: E402

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
LARGE = (1600, 1000)
PATIENCE = 30_000  # ms; the machines that run this may be slow
LAYING = 150_000  # ms, until every cloth is laid

expect.set_options(timeout=PATIENCE)


class Workroom:
    """The program as a person starts it, told to leave her browser alone."""

    def __init__(self, folder: Path):
        self.folder = folder
        self.process: subprocess.Popen[str] | None = None
        self.port = 0
        self.address = ""

    def start(self) -> str:
        """Starts the program and returns the address that opens the page."""
        command = [sys.executable, "-m", "settwright", "--data", str(self.folder), "--no-browser"]
        if self.port:
            command += ["--port", str(self.port)]
        self.process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
        assert self.process.stdout is not None
        said = []
        for line in self.process.stdout:
            said.append(line)
            found = re.search(r"http://\S+:(\d+)/\?token=\S+", line)
            if found:
                self.address, self.port = found[0], int(found[1])
                return self.address
        raise AssertionError("the page didn't open: " + "".join(said))

    def stop(self, how: int = signal.SIGINT) -> None:
        """Ends the program."""
        if self.process is not None:
            self.process.send_signal(how)
            try:
                self.process.wait(20)
            except subprocess.TimeoutExpired:
                self.process.kill()
                self.process.wait()
            if self.process.stdout is not None:
                self.process.stdout.close()
            self.process = None


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    if CHROMIUM is None:
        pytest.skip("no Chromium on this machine")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield browser
        browser.close()


@pytest.fixture(scope="module")
def workroom(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workroom]:
    room = Workroom(tmp_path_factory.mktemp("workroom"))
    room.start()
    yield room
    room.stop()


@pytest.fixture(scope="module")
def context(browser: Browser, workroom: Workroom) -> Iterator[BrowserContext]:
    """A browser that was let in."""
    context = browser.new_context(
        viewport={"width": LARGE[0], "height": LARGE[1]}, reduced_motion="reduce", accept_downloads=True, locale="en-GB"
    )
    context.set_default_timeout(PATIENCE)
    page = context.new_page()
    page.goto(workroom.address)
    expect(page.get_by_role("heading", name="A new commission")).to_be_visible()
    page.close()
    yield context
    context.close()


@pytest.fixture
def page(context: BrowserContext, workroom: Workroom) -> Iterator[Page]:
    """A tab at the first view; fails where the page itself stumbles."""
    page = context.new_page()
    stumbles: list[str] = []
    page.on("pageerror", lambda error: stumbles.append(str(error)))
    page.goto(f"http://127.0.0.1:{workroom.port}/")
    expect(page.get_by_role("heading", name="A new commission")).to_be_visible()
    yield page
    page.close()
    assert not stumbles, stumbles


@pytest.fixture
def pictures() -> Callable[[Page, str], None]:
    """Keeps a picture of the page in the folder that SETTWRIGHT_PICTURES names; does nothing without one."""
    folder = os.environ.get("SETTWRIGHT_PICTURES")

    def keep(page: Page, name: str) -> None:
        if folder:
            Path(folder).mkdir(parents=True, exist_ok=True)
            page.screenshot(path=str(Path(folder) / f"{name}.png"))

    return keep
