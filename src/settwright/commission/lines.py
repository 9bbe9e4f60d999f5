"""Where each field stands in the text, so that a message can name its line.

The standard library's reader of TOML gives values without places; this pass gives places without values. It is run
on text that the reader has accepted, and on text it hasn't understands as much as it can: a line that it misses only
costs the line number in a message.
"""

from __future__ import annotations

import re

Path = tuple[str | int, ...]
"""A field: ("cloths", "shell", "warp", "bars", 2)."""

_KEY = r"""(?:[A-Za-z0-9_-]+|"(?:[^"\\]|\\.)*"|'[^']*')"""
_DOTTED = rf"{_KEY}(?:\s*\.\s*{_KEY})*"
_HEADER = re.compile(rf"^\s*(\[\[?)\s*({_DOTTED})\s*\]\]?\s*(?:#.*)?$")
_ENTRY = re.compile(rf"^\s*({_DOTTED})\s*=")


def lines_of(text: str) -> list[str]:
    """Returns a text's lines as TOML counts them, which is by line feeds alone."""
    return text.replace("\r\n", "\n").split("\n")


class Lines:
    """The line of every field of a text, counted from 1."""

    def __init__(self, text: str):
        self._text = lines_of(text)
        self._line: dict[Path, int] = {}
        self._scan()

    def of(self, path: Path) -> int | None:
        """Returns the line of a field, or of the section that it belongs in; None if that isn't there either."""
        while path:
            if path in self._line:
                return self._line[path]
            path = path[:-1]
        return None

    def _scan(self) -> None:
        section: Path = ()
        counts: dict[Path, int] = {}
        at = 0
        while at < len(self._text):
            line = self._text[at]
            if header := _HEADER.match(line):
                section = ()
                *outer, last = _keys(header[2])
                for key in outer:
                    section += (key,)
                    if section in counts:
                        section += (counts[section] - 1,)
                section += (last,)
                self._put(section, at)
                if header[1] == "[[":
                    counts[section] = counts.get(section, 0) + 1
                    section += (counts[section] - 1,)
                    self._put(section, at)
                elif section in counts:
                    section += (counts[section] - 1,)
                at += 1
            elif entry := _ENTRY.match(line):
                path = section
                for key in _keys(entry[1]):
                    path += (key,)
                    self._put(path, at)
                at = self._pass_value(path, at, entry.end())
            else:
                at += 1

    def _put(self, path: Path, at: int) -> None:
        self._line.setdefault(path, at + 1)

    def _pass_value(self, path: Path, at: int, column: int) -> int:
        """Passes over a value and notes the lines of its elements if it is a list; returns the line after it."""
        depth, element, is_list = 0, 0, False
        while at < len(self._text):
            line = self._text[at]
            while column < len(line):
                sign = line[column]
                if sign == "#":
                    break
                if depth == 1 and is_list and not sign.isspace() and sign not in ",]":
                    self._put((*path, element), at)
                if sign in "\"'":
                    at, column = self._pass_string(at, column)
                    line = self._text[at] if at < len(self._text) else ""
                    continue
                if sign in "[{":
                    is_list = is_list or (depth == 0 and sign == "[")
                    depth += 1
                elif sign in "]}":
                    depth -= 1
                elif sign == "," and depth == 1:
                    element += 1
                column += 1
            at, column = at + 1, 0
            if depth <= 0:
                break
        return at

    def _pass_string(self, at: int, column: int) -> tuple[int, int]:
        """Returns the place behind a string that begins at a quotation mark."""
        line = self._text[at]
        mark = line[column]
        if line.startswith(mark * 3, column):
            column += 3
            while at < len(self._text):
                end = self._text[at].find(mark * 3, column)
                if end >= 0:
                    return at, end + 3
                at, column = at + 1, 0
            return at, 0
        column += 1
        while column < len(line) and line[column] != mark:
            column += 2 if mark == '"' and line[column] == "\\" else 1
        return at, column + 1


def _keys(dotted: str) -> list[str]:
    return [key[1:-1] if key[0] in "\"'" else key for key in re.findall(_KEY, dotted)]


def written(path: Path) -> str:
    """Returns a field as a person would name it.

    >>> written(("cloths", "shell", "warp", "bars", 2))
    'cloths.shell.warp.bars, no. 3'
    >>> written(("pins", 0, "bar"))
    'pins, no. 1, bar'
    """
    text = ""
    for key in path:
        if isinstance(key, int):
            text += f", no. {key + 1}, "
        else:
            text += ("." if text and not text.endswith(", ") else "") + key
    return text.removesuffix(", ")
