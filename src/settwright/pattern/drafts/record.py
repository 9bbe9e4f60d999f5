"""The drafting record: every figure is worked out from the very sentence that the tailor reads.

A rule such as "neck base girth / 5 − 2 mm" is kept as text and evaluated as text, so that the record can't say one
thing while the draft does another.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator, Mapping
from functools import cache

from settwright.geometry import Path, Point
from settwright.pattern.piece import Step

CUSTOM = "common practice, no source"

_TOKEN = re.compile(r"\s*(?:(?P<number>\d+(?:\.\d+)?)(?:\s*mm\b)?|(?P<name>[a-z][a-z' ]*[a-z])|(?P<sign>[-+−×/();]))")

_Values = Mapping[str, float]
_Rule = Callable[[_Values], float]

_FUNCTIONS: dict[str, Callable[..., float]] = {
    "least of": min,
    "most of": max,
    "root of": math.sqrt,
    "tangent of": math.tan,
    "sine of": math.sin,
    "cosine of": math.cos,
    "angle with tangent": math.atan,
}


class Recorder:
    """Works out figures and points by their rules and keeps each as a Step.

    >>> recorder = Recorder({"neck base girth": 370.0})
    >>> recorder.number("back neck width", "back", "neck base girth / 5 − 2 mm")
    72.0
    >>> recorder.steps[0].numbers
    (('neck base girth', 370.0),)
    """

    def __init__(self, known: _Values):
        self._known = dict(known)
        self._steps: list[Step] = []

    @property
    def steps(self) -> tuple[Step, ...]:
        """The record so far, in the order of drafting."""
        return tuple(self._steps)

    def __getitem__(self, name: str) -> float:
        return self._known[name]

    def number(self, name: str, of: str, rule: str, source: str = CUSTOM) -> float:
        """Works out a figure by its rule and keeps it under its name for later rules.

        Raises KeyError when the rule names a figure that isn't known.
        """
        value, numbers = self._worked_out(rule)
        self._known[name] = value
        self._steps.append(Step(name, of, f"{name} = {rule}", numbers, value=value, source=source))
        return value

    def point(self, name: str, of: str, across: str, up: str, source: str = CUSTOM) -> Point:
        """Works out a point by its two rules: across from the centre back, up from the waist."""
        x, numbers_x = self._worked_out(across)
        y, numbers_y = self._worked_out(up)
        numbers = (*numbers_x, *(pair for pair in numbers_y if pair not in numbers_x))
        point = Point(x, y)
        rule = f"across from the centre back: {across}; up from the waist: {up}"
        self._steps.append(Step(name, of, rule, numbers, point=point, source=source))
        return point

    def found(
        self,
        name: str,
        of: str,
        rule: str,
        value: float | Point,
        using: tuple[str, ...] = (),
        *,
        source: str = CUSTOM,
    ) -> None:
        """Keeps a figure or point that was constructed rather than calculated; `using` names the figures behind it.

        A figure can be used in later rules.
        """
        numbers = tuple((word, self._known[word]) for word in using)
        if isinstance(value, Point):
            self._steps.append(Step(name, of, rule, numbers, point=value, source=source))
        else:
            self._known[name] = value
            self._steps.append(Step(name, of, rule, numbers, value=value, source=source))

    def drawn(
        self, name: str, of: str, rule: str, line: Path, using: tuple[str, ...] = (), *, source: str = CUSTOM
    ) -> Path:
        """Keeps a line or curve as it is drawn, in the frame of the points, and returns it; its value is its length.

        `using` names the figures behind it. The length isn't a figure for later rules: `found` keeps one.
        """
        numbers = tuple((word, self._known[word]) for word in using)
        self._steps.append(Step(name, of, rule, numbers, value=line.length, source=source, line=line))
        return line

    def _worked_out(self, rule: str) -> tuple[float, tuple[tuple[str, float], ...]]:
        formula, names = _parsed(rule)
        return formula(self._known), tuple((name, self._known[name]) for name in names)


@cache
def _parsed(rule: str) -> tuple[_Rule, tuple[str, ...]]:
    """Returns a rule as a function of named figures, and the names in it."""
    reader = _Reader(rule)
    formula = reader.whole()
    return formula, tuple(dict.fromkeys(reader.names))


class _Reader:
    """Reads sums of products of figures, names, brackets and the functions above; ";" parts their arguments."""

    def __init__(self, rule: str):
        self._rule = rule
        self._tokens = list(_tokens(rule))
        self.names: list[str] = []

    def whole(self) -> _Rule:
        formula = self._sum()
        if self._tokens:
            raise ValueError(f"can't read the rule {self._rule!r} from {self._tokens[0][1]!r} on")
        return formula

    def _next(self, *signs: str) -> str | None:
        if self._tokens and self._tokens[0][1] in signs:
            return self._tokens.pop(0)[1]
        return None

    def _sum(self) -> _Rule:
        total = self._product()
        while sign := self._next("+", "−", "-"):
            total = _combined(total, sign, self._product())
        return total

    def _product(self) -> _Rule:
        total = self._factor()
        while sign := self._next("×", "/"):
            total = _combined(total, sign, self._factor())
        return total

    def _factor(self) -> _Rule:
        if self._next("−", "-"):
            inner = self._factor()
            return lambda known: -inner(known)
        if self._next("("):
            formula = self._sum()
            self._close()
            return formula
        if not self._tokens:
            raise ValueError(f"the rule {self._rule!r} breaks off")
        kind, text = self._tokens.pop(0)
        if kind == "number":
            value = float(text)
            return lambda known: value
        if kind == "name" and text in _FUNCTIONS:
            return self._call(_FUNCTIONS[text])
        if kind == "name":
            self.names.append(text)
            return lambda known: known[text]
        raise ValueError(f"can't read {text!r} in the rule {self._rule!r}")

    def _call(self, function: Callable[..., float]) -> _Rule:
        if not self._next("("):
            raise ValueError(f"the rule {self._rule!r} lacks a bracket")
        arguments = [self._sum()]
        while self._next(";"):
            arguments.append(self._sum())
        self._close()
        return lambda known: function(*(argument(known) for argument in arguments))

    def _close(self) -> None:
        if not self._next(")"):
            raise ValueError(f"the rule {self._rule!r} doesn't close its bracket")


def _combined(a: _Rule, sign: str, b: _Rule) -> _Rule:
    if sign == "+":
        return lambda known: a(known) + b(known)
    if sign == "×":
        return lambda known: a(known) * b(known)
    if sign == "/":
        return lambda known: a(known) / b(known)
    return lambda known: a(known) - b(known)


def _tokens(rule: str) -> Iterator[tuple[str, str]]:
    place = 0
    text = rule.rstrip()
    while place < len(text):
        found = _TOKEN.match(text, place)
        if not found or found.end() == place:
            raise ValueError(f"can't read the rule {rule!r} at {text[place:]!r}")
        place = found.end()
        kind = found.lastgroup or ""
        yield kind, found[kind]
