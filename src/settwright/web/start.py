"""What the first view shows: the commissions on the table, the examples, how she likes the page. Light to load."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

from settwright.store import Book
from settwright.web.starter import can_offer

Data = dict[str, Any]

GARMENTS = ("jacket", "skirt", "trousers")


def start_data(book: Book) -> Data:
    """Returns all that the first view needs."""
    return {
        "commissions": listed(book),
        "examples": examples(),
        "settings": settings(book),
        "offers_starter": can_offer() and "starter" not in book.kept(),
    }


def settings(book: Book) -> dict[str, str]:
    """Returns how she likes the page."""
    return {key.removeprefix("page."): value for key, value in book.kept().items() if key.startswith("page.")}


def listed(book: Book) -> list[Data]:
    """Returns all commissions, the one touched last first."""
    found: list[Data] = []
    for kept in book.commissions():
        data = tomllib.loads(kept.text)
        client = data.get("client")
        found.append(
            {
                "id": kept.commission,
                "title": titled(data),
                "client": str(client.get("name", "")) if isinstance(client, dict) else "",
                "garments": [name for name in GARMENTS if name in data],
                "changed": kept.at,
                "revision": kept.revision,
            }
        )
    return found


def examples() -> list[Data]:
    """Returns the examples that a commission may begin from."""
    found: list[Data] = []
    for name, path in sorted(example_files().items(), reverse=True):
        data = tomllib.loads(path.read_text(encoding="utf-8"))
        cloths = data.get("cloths", {})
        garments = " and ".join(garment for garment in GARMENTS if garment in data)
        says = f"{garments}, {cloths.get('shell', {}).get('title', '')}".strip(", ")
        found.append({"name": name, "title": titled(data), "says": says[:1].upper() + says[1:]})
    return found


def example_files() -> dict[str, Path]:
    """Returns the examples by name: in the package, or beside it where the program runs from a clone."""
    here = Path(__file__).resolve()
    packed = here.parents[1] / "examples"
    folder = packed if packed.is_dir() else here.parents[3] / "examples"
    return {path.stem: path for path in folder.glob("*.toml")}


def titled(data: Data) -> str:
    """Returns a commission's title."""
    return str(data.get("title") or "Commission")
