"""plan.json as values: the transport form of a plan, apart from the values that the stages pass on.

docs/plan-format.md explains every field and the frames; `schema()` writes the same as JSON Schema. Lengths are
millimetres, angles radians, coordinates rounded to 0.001 mm.
"""

from __future__ import annotations

from typing import Annotated, Any, cast

import msgspec
import msgspec.json
import msgspec.structs

FORMAT = "1.2"

Coordinate = Annotated[float, msgspec.Meta(description="millimetres")]
XY = tuple[Coordinate, Coordinate]


class BarDocument(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One bar of a sett."""

    name: str
    colour: str
    width: float


class SequenceDocument(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The bars of one direction over one repeat, from the sett's origin."""

    bars: tuple[BarDocument, ...]
    repeat: float
    even: bool
    pivots: tuple[float, ...]
    matters: bool  # False: all bars have one colour, so nothing needs to agree along this axis


class FaultDocument(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A place that no piece may touch."""

    name: str
    outline: tuple[XY, ...]
    may_be_hidden: bool = False  # pieces that don't show may lie on it


class OriginDocument(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Where the sett's origin lies in the cloth frame."""

    x: float
    y: float


class ReckoningDocument(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What to buy, and why."""

    lays_in: float
    buy: float
    parts: tuple[tuple[str, float], ...]
    rule_of_thumb: float
    sure_bound: float  # area of the pieces divided by the usable width


class ClothDocument(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One cloth and the length laid out."""

    name: str
    title: str
    width: float
    selvedge: float
    length: float  # length that the pieces lie in
    sett_origin: OriginDocument
    colours: dict[str, str]
    warp: SequenceDocument  # upright bars, along x
    weft: SequenceDocument  # level bars, along y
    nap: str  # "none" or "one-way"
    faces_alike: bool
    weave: str
    thickness: float
    faults: tuple[FaultDocument, ...]
    reckoning: ReckoningDocument


class StopDocument(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A named end or notch of an edge."""

    name: str
    at: XY


class EdgeDocument(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A named side of a piece, or a named line inside it."""

    name: str
    kind: str  # "edge", or what the line is for: level, centre, roll, fold, dart, place
    points: tuple[XY, ...]
    stops: tuple[StopDocument, ...]


class MarkDocument(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A named point."""

    name: str
    at: XY


class PhaseDocument(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Where the grain mark falls in the repeat; null on an axis where any place will do."""

    u: float | None
    v: float | None


class PieceDocument(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One instance as it is cut."""

    name: str
    title: str
    garment: str
    piece: str
    hand: str  # "right", "left", "whole"
    cloth: str
    free: bool  # lies anywhere: hidden, or nothing to match
    visible: bool
    grain_mark: XY
    grain_angle: float  # from the piece's +y to the warp
    turned: bool
    face: str  # "right" or "wrong"
    phase: PhaseDocument
    fixed_by: str
    seam_line: tuple[XY, ...]
    cutting_line: tuple[XY, ...]
    edges: tuple[EdgeDocument, ...]
    marks: tuple[MarkDocument, ...]
    later: bool = False  # cut after the fitting
    block: bool = False  # cut after the fitting: the cutting line is a rough block's for now
    mirrors: bool = True  # of a pair: false where the two halves have each their own shape


class SideDocument(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One side of a join."""

    piece: str
    edge: str


class JoinDocument(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Something across which bars should agree, with its sample pairs and how it came out."""

    name: str
    kind: str
    a: SideDocument
    b: SideDocument
    level: str  # continue, mirror, none
    upright: str
    stretch: tuple[str, str]
    level_at: str  # the stop where level bars must meet whatever happens elsewhere; "" for none
    hard: bool
    importance: str
    weight: float
    ease: float
    samples: tuple[tuple[float, float, float, float, float], ...]  # ax, ay, bx, by, weight
    level_drift: tuple[float, ...] | None
    upright_drift: tuple[float, ...] | None
    floor: float
    worst_level: float
    worst_upright: float
    colour: float
    summary: str


class CycleDocument(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A ring of joins whose level offsets don't add up."""

    joins: tuple[str, ...]
    closing: float


class PlacementDocument(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Where an instance's grain mark lies on its cloth."""

    piece: str
    cloth: str
    x: float
    y: float
    turned: bool
    face: str


class MeasureDocument(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One measurement and where it came from; mm, or radians for a slope."""

    name: str
    value: float
    source: str
    how: str
    spread: float


class FindingDocument(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Something to tell."""

    weight: str
    where: str
    what: str
    remedy: str


class PlanDocument(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The whole plan."""

    format: str
    title: str
    made_by: str
    unit: str  # always "mm"
    stage: str  # the state of the allowances: "before the fitting" or "after the fitting"
    front_laps_over: str
    body: tuple[MeasureDocument, ...]
    cloths: tuple[ClothDocument, ...]
    pieces: tuple[PieceDocument, ...]
    joins: tuple[JoinDocument, ...]
    cycles: tuple[CycleDocument, ...]
    placements: tuple[PlacementDocument, ...]
    findings: tuple[FindingDocument, ...]


def encode(plan: PlanDocument) -> bytes:
    """Returns plan.json's bytes: stable order, two spaces' indent for the outer levels only."""
    fields = msgspec.structs.asdict(plan)
    lines: list[bytes] = []
    for name, value in fields.items():
        if isinstance(value, tuple) and value:
            rows = b",\n    ".join(msgspec.json.encode(row) for row in cast(tuple[object, ...], value))
            lines.append(b'  "%s": [\n    %s\n  ]' % (name.encode(), rows))
        else:
            lines.append(b'  "%s": %s' % (name.encode(), msgspec.json.encode(value)))
    return b"{\n" + b",\n".join(lines) + b"\n}\n"


def schema() -> dict[str, Any]:
    """Returns the JSON Schema (draft 2020-12) of plan.json."""
    made = msgspec.json.schema(PlanDocument)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": f"Settwright plan {FORMAT}",
        **made,
    }
