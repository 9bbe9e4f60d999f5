"""The desk at which a document is read: it collects everything that is wrong and says where it stands."""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Iterable
from enum import StrEnum
from typing import TypeVar

from settwright.commission.lines import Lines, Path, written
from settwright.findings import Finding, Weight
from settwright.units import CM, INCH, Units, format_length, parse_length

Word = TypeVar("Word", bound=StrEnum)

LONGEST = 1e6  # mm; no cloth is longer than a kilometre


class Desk:
    """Collects findings while one document is read."""

    def __init__(self, name: str, lines: Lines):
        self.name = name
        self.lines = lines
        self.units = Units.CM
        self.wrong: list[Finding] = []
        self.said: list[Finding] = []

    def refuse(self, path: Path, what: str, remedy: str) -> None:
        """Notes what stands in the way of a plan."""
        line = self.lines.of(path)
        place = f"{self.name}, line {line}" if line else self.name
        self.wrong.append(Finding(Weight.REFUSED, f"{place}, {written(path)}" if path else place, what, remedy))

    def say(self, weight: Weight, path: Path, what: str, remedy: str = "") -> None:
        """Notes what the tailor should know though the plan goes on."""
        self.said.append(Finding(weight, written(path), what, remedy))

    def length(
        self, path: Path, given: int | float | str, title: str, least: float = -LONGEST, most: float = LONGEST
    ) -> float | None:
        """Returns a length in millimetres within its limits; None (and a finding) if it isn't one."""
        try:
            value = parse_length(given, self.units)
        except OverflowError:
            value = math.inf
        except ValueError as wrong:
            self.refuse(path, f"{wrong}", f"This is the {title}.")
            return None
        if least <= value <= most and abs(value) <= LONGEST:
            return value
        if not abs(value) <= LONGEST:
            self.refuse(path, f"{short(given)} is no {title} that can be cut.", "Read the figure again.")
            return None
        if most < LONGEST:
            limits = f"it must lie from {format_length(least, self.units)} to {format_length(most, self.units)}"
        else:
            limits = f"it can't be less than {format_length(least, self.units)}"
        self.refuse(
            path,
            f"{short(given)} as {title} comes to {format_length(value, self.units)}; {limits}.",
            self._slip_of_unit(given, value / self.units.size, least, most),
        )
        return None

    def _slip_of_unit(self, given: int | float | str, figure: float, least: float, most: float) -> str:
        """Returns the unit in which a bare figure would have been possible, as a question."""
        is_bare = not isinstance(given, str) or bool(re.fullmatch(r"\s*\d+(?:[.,]\d+)?\s*", given))
        for size, suffix in ((1.0, "mm"), (INCH, "in"), (CM, "cm")):
            if is_bare and size != self.units.size and least <= figure * size <= most:
                return f'Did you mean "{figure:g} {suffix}"? Then write it so, in quotation marks.'
        return "Read the figure again."

    def number(self, path: Path, given: float | str, title: str, *, least: float, most: float) -> float | None:
        """Returns a figure without a unit ("68,50", "2 %"); None (and a finding) if it isn't one within its limits."""
        try:
            value = float(given.replace("%", "").replace(",", ".").strip()) if isinstance(given, str) else float(given)
        except (ValueError, OverflowError):
            self.refuse(path, f"{short(given)} is no {title}.", "Write a figure, such as 68 or 68.50.")
            return None
        if not least <= value <= most:
            wrong = "less than nothing" if value < 0 <= least else short(given)
            remedy = f"Write a figure from {least:g} to {most:g}." if most < 1e6 else "Write a figure of 0 or more."
            self.refuse(path, f"the {title} can't be {wrong}.", remedy)
            return None
        return value

    def word(self, path: Path, given: str, kind: type[Word], title: str) -> Word | None:
        """Returns one of a fixed set of words; None (and a finding) if it is none of them."""
        for member in kind:
            if _spoken(given) == _spoken(member.value):
                return member
        self.refuse(path, f"{short(given)} is no {title}.", offer(given, [member.value for member in kind]))
        return None


def _spoken(word: str) -> str:
    """Returns a word as it sounds: without capitals and hyphens."""
    return " ".join(word.lower().replace("-", " ").split())


def nearest(given: str, known: Iterable[str]) -> str | None:
    """Returns the known name that is written most like a given one, or None if none is."""
    near = difflib.get_close_matches(given.strip().lower()[:80], list(known), n=1, cutoff=0.55)
    return near[0] if near else None


def offer(given: str, known: Iterable[str], few: int = 8) -> str:
    """Returns a sentence that offers the nearest known name, and all of them where they are few or none is near.

    With `few` 0 they are never listed.
    """
    names = list(known)
    near = nearest(given, names)
    choice = f"Did you mean “{near}”?" if near else ""
    listing = f"Choose from: {', '.join(names)}." if names and few and (len(names) <= few or not near) else ""
    return " ".join(part for part in (choice, listing) if part) or ("" if names else "There is none to choose from.")


def short(given: object) -> str:
    """Returns what was written, cut to a length that fits a sentence."""
    if isinstance(given, int) and abs(given) >= 10**18:
        return "a figure of that length"
    text = f"“{given}”" if isinstance(given, str) else f"{given}"
    return text if len(text) <= 60 else text[:57] + "…”"
