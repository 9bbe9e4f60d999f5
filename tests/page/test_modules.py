"""The page's modules: their types, and what can be tested of them without a browser. Left out without node."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
NODE = shutil.which("node")


def run(*command: str) -> None:
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.skipif(NODE is None, reason="no node on this machine")
def test_the_arithmetic_of_the_modules() -> None:
    run(str(NODE), "--test", *sorted(str(file) for file in Path(__file__).parent.glob("modules/*.test.mjs")))


@pytest.mark.skipif(NODE is None, reason="no node on this machine")
@pytest.mark.skipif(not (ROOT / "node_modules" / "typescript").exists(), reason="`npm ci` hasn't been run")
def test_the_types_of_the_modules() -> None:
    run(str(NODE), "node_modules/typescript/bin/tsc", "-p", "tsconfig.json")


def test_nothing_of_the_page_leads_out_of_it() -> None:
    static = ROOT / "src" / "settwright" / "web" / "static"
    for file in static.rglob("*"):
        if file.suffix in (".js", ".css", ".html") and "vendor" not in file.parts:
            text = file.read_text(encoding="utf-8").replace("http://www.w3.org/", "")  # the namespace of SVG
            assert not re.search("https?:", text), file


def test_the_page_asks_at_once_for_every_module_of_its_first_screen() -> None:
    static = ROOT / "src" / "settwright" / "web" / "static"
    reached, ahead = set[Path](), [static / "app" / "main.js"]
    while ahead:
        module = ahead.pop()
        found = re.findall(r'^(?:import|export) [^;]*?"(\.[^"]+)";', module.read_text(encoding="utf-8"), re.MULTILINE)
        new = {(module.parent / name).resolve() for name in found} - reached
        reached |= new
        ahead += new
    told = re.findall(
        r'rel="modulepreload" href="/static/([^"]+)"', (static / "index.html").read_text(encoding="utf-8")
    )
    assert {static / name for name in told} == reached
