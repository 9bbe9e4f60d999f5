"""Puts a starter into the desktop's menu, when she wants one (XDG Desktop Entry Specification)."""

from __future__ import annotations

import os
import shutil
import sys
from importlib.resources import files
from pathlib import Path

NAME = "settwright.desktop"


def can_offer() -> bool:
    """Whether this desktop has a menu that a starter can be put into."""
    return sys.platform.startswith("linux") and bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def add_starter(applications: Path | None = None) -> Path:
    """Writes the starter and returns where it is. Raises OSError."""
    data = Path(os.environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share")
    folder = applications or data / "applications"
    folder.mkdir(parents=True, exist_ok=True)
    part, target = folder / (NAME + ".part"), folder / NAME
    part.write_text(entry(_command()), encoding="utf-8")
    os.replace(part, target)
    return target


def entry(command: list[str]) -> str:
    """Returns the starter's text."""
    icon = files("settwright.web") / "static" / "mark.svg"
    return "\n".join(
        (
            "[Desktop Entry]",
            "Type=Application",
            "Version=1.5",
            "Name=Settwright",
            "GenericName=Cutting plans",
            "Comment=From measurements, a design and a length of plaid or stripe to a cut-ready plan",
            f"Exec={' '.join(map(quoted, command))}",
            f"Icon={icon}",
            "Terminal=false",
            "Categories=Graphics;",
            "StartupNotify=true",
            "",
        )
    )


def quoted(word: str) -> str:
    """Returns a word as the Exec line of a desktop entry wants it.

    >>> quoted("/home/maud/my $tools/settwright")
    '"/home/maud/my \\\\\\\\$tools/settwright"'
    """
    if word and all(sign.isalnum() or sign in "/._-+" for sign in word):
        return word
    inner = "".join(f"\\{sign}" if sign in '"`$\\' else sign for sign in word)
    return '"' + inner.replace("\\", "\\\\").replace("%", "%%") + '"'


def _command() -> list[str]:
    beside = Path(sys.executable).with_name("settwright")
    found = str(beside) if beside.exists() else shutil.which("settwright")
    return [found] if found else [sys.executable, "-m", "settwright"]
