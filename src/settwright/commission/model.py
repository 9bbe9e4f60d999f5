"""The commission as a value: everything that the person decides, checked, in millimetres and radians.

It knows nothing of the file: document.py holds the form on paper, reading.py the way from there to here.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from settwright.cloth import Cloth
from settwright.commission.design import JacketDesign, SkirtDesign, TrousersDesign
from settwright.commission.handwork import Closures, Hours, Prices
from settwright.commission.inside import Inside
from settwright.findings import Finding
from settwright.units import Units


class Hand(StrEnum):
    """The wearer's own right or left."""

    RIGHT = "right"
    LEFT = "left"


class Stage(StrEnum):
    """Which of the two states of the allowances is cut now."""

    BEFORE_FITTING = "before the fitting"
    AFTER_FITTING = "after the fitting"


class Axis(StrEnum):
    """Which bars a pin speaks of."""

    UPRIGHT = "upright"  # bars along the cloth, of warp threads
    LEVEL = "level"  # bars across it, of weft threads


class Importance(StrEnum):
    """How much it matters that the bars agree at a seam."""

    ALWAYS = "always"
    IF_POSSIBLE = "if possible"
    LET_GO = "let go"
    HIDDEN = "hidden"


class Uneven(StrEnum):
    """How the two halves lie where the upright bars read differently from left and right."""

    ROUND = "round the body"
    TURN = "turn one half"
    OTHER_FACE = "other face"


class Cutting(StrEnum):
    """What is cut now."""

    EVERYTHING = "everything"
    BODY_FIRST = "body first"  # the rest kept as rough blocks until the fitting
    TOILE = "toile"  # from plain cloth, to fit before the outer cloth is cut


@dataclass(frozen=True, slots=True)
class Choices:
    """Decisions that belong to the ensemble rather than to one garment's cut."""

    front_laps_over: Hand = Hand.RIGHT
    stage: Stage = Stage.BEFORE_FITTING
    uneven: Uneven = Uneven.ROUND
    hem_on_a_bar: bool = True  # where nothing speaks against it
    bar_off_the_fullest: bool = False  # the dominant level bar kept off the fullest part of bust and hip
    cutting: Cutting = Cutting.EVERYTHING


@dataclass(frozen=True, slots=True)
class Pin:
    """A place on a cut piece, or on a seam, that must fall on a place of the sett.

    The place on the piece is a mark, or a stop of an edge or line, or (neither given) the middle of that edge or line;
    on a seam it is one of its stops, or its middle.
    """

    piece: str  # instance: "front.right", "top-collar"; empty where a seam is pinned
    axis: Axis
    place: float  # in the warp sequence (upright) or weft sequence (level), from its origin, 0 ≤ place < repeat
    said: str  # as the person put it: "middle of navy 2"
    mark: str | None = None
    edge: str | None = None  # an edge, or a line drawn inside
    stop: str | None = None
    seam: str | None = None  # instance: "side-front.right", "centre-back"


@dataclass(frozen=True, slots=True)
class Placed:
    """A piece lying on a cloth: where its grain mark is in the cloth frame, and how it lies."""

    piece: str
    x: float  # from the left selvedge's edge
    y: float  # from the cut end
    turned: bool = False  # by 180°
    wrong_side_up: bool = False


@dataclass(frozen=True, slots=True)
class CutAlready:
    """A piece that has been cut and keeps its place."""

    cloth: str
    placed: Placed
    plan: str = ""  # hash of the plan that its outline stands in
    outline: tuple[tuple[float, float], ...] = ()  # as it was cut, in the piece's frame; (): as drafted now


@dataclass(frozen=True, slots=True)
class Fitting:
    """What was noted at a fitting."""

    date: str
    note: str
    corrections: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Found:
    """A layout found by a longer search, good only while the hash of its inputs is still theirs."""

    cloth: str
    inputs: str  # canonical_hash of what it was found for
    length: float
    sett_at_end: float | None
    placements: tuple[Placed, ...]


@dataclass(frozen=True)
class Commission:
    """One ensemble for one client."""

    title: str
    client: str
    units: Units
    currency: str
    measured: tuple[tuple[str, float], ...]  # (measurement id, millimetres; shoulder_slope in radians)
    jacket: JacketDesign | None
    skirt: SkirtDesign | None
    cloths: tuple[Cloth, ...]
    choices: Choices = Choices()
    inside: Inside = field(default_factory=Inside)
    pins: tuple[Pin, ...] = ()
    importance: tuple[tuple[str, Importance], ...] = ()  # by seam ("side-front") or its instance ("side-front.left")
    cut: tuple[CutAlready, ...] = ()
    fittings: tuple[Fitting, ...] = ()
    found: tuple[Found, ...] = ()
    notes: str = ""
    findings: tuple[Finding, ...] = ()  # defaults taken, cautions
    trousers: TrousersDesign | None = None
    closures: Closures = field(default_factory=Closures)
    hours: Hours = field(default_factory=Hours)
    prices: Prices = field(default_factory=Prices)

    def cloth(self, name: str) -> Cloth:
        """Returns a cloth by its id; raises KeyError."""
        for cloth in self.cloths:
            if cloth.name == name:
                return cloth
        raise KeyError(f"the commission has no cloth {name!r}")

    def importance_of(self, join: str) -> Importance | None:
        """Returns what the person said of a join ("side-front.left"), else of both its hands, else None."""
        said = dict(self.importance)
        return said.get(join) or said.get(join.rsplit(".", 1)[0])
