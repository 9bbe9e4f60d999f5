"""How a skirt's waist is held in to its band or ribbon, whether the cloth takes it, and what can be let out later.

Common practice, no source: up to about 50 mm held in over a new skirt's waist; a ribbon 5 to 6 mm short of the skirt
at the zip; nothing held in beside it. A waist meant to be let out (a bride's) is cut up to 50 mm larger than needed and
held in to a ribbon, and later ribbons are longer, up to the waist's own length.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

from settwright.cloth.give import Give
from settwright.findings import Finding, Weight
from settwright.geometry import Path, Point
from settwright.makeup.model import CutPiece, Finish, MadeUp
from settwright.pattern import Draft, LineKind, Piece

MOST_HELD_IN = 50.0
_STEP = 10.0  # from one ribbon to the next longer one
_SEWN = 10.0  # of an allowance that must stay beyond the seam
_LEAST_RESERVE = 5.0
_NOT_THE_BODY = ("facing-", "lining-", "under-collar", "stand-collar", "gusset")  # follow what they are sewn to
_BANDS = ("waist-ribbon", "waistband")


@dataclass(frozen=True)
class HeldIn:
    """A stretch of the skirt's waist, on each half, and what it is held in by."""

    panel: str  # "skirt-front"
    first: str
    last: str
    length: float
    by: float

    @property
    def part(self) -> float:
        """What is held in, as a part of the length."""
        return self.by / self.length


@dataclass(frozen=True)
class WaistPlan:
    """A skirt's waist and what holds it; lengths in mm."""

    band: str  # "waist-ribbon" or "waistband"
    length: float  # of the ribbon or band as finished, without an underlap
    waist: float  # of the skirt along it, all round
    held: tuple[HeldIn, ...]  # of one half; the other is the same
    takes: float  # part of a length that the cloth can be held in by
    ladder: tuple[float, ...]  # longer ribbons that the waist allows, the longest last
    lower_longer: float  # by how much the lower edge of a ribbon shaped to the body is longer than its upper one

    @property
    def held_in(self) -> float:
        """In all, both halves."""
        return 2 * sum(each.by for each in self.held)


@dataclass(frozen=True)
class Reserve:
    """What a seam can be let out by, once its allowances are trimmed: in all, both its sides and both hands."""

    seam: str
    title: str
    by: float


def waist_plan(draft: Draft, give: Give, ribbon_width: float) -> WaistPlan | None:
    """Returns how a skirt's waist is held; None for a draft without band or ribbon."""
    pieces = {piece.name: piece for piece in draft.pieces}
    band = next((name for name in _BANDS if name in pieces), None)
    if band is None:
        return None
    held: list[HeldIn] = []
    for seam in draft.seams:
        if seam.b.piece != band or not seam.a.piece.startswith("skirt-"):
            continue
        piece = pieces[seam.a.piece]
        for (first, last), ease in zip(itertools.pairwise(seam.stops), seam.ease, strict=True):
            edge = _known(piece, seam.a.edge)
            length = abs(piece.stop(edge, last) - piece.stop(edge, first))
            held.append(HeldIn(seam.a.piece, first, last, length, max(0.0, -ease)))
    waist = 2 * sum(each.length for each in held)
    length = waist - 2 * sum(each.by for each in held)
    steps = math.floor((waist - length) / _STEP + 1e-9)
    ladder = [length + _STEP * step for step in range(1, steps + 1)]
    if waist - (ladder[-1] if ladder else length) > 1.0:
        ladder.append(waist)
    grows = 2 * sum(_spread(piece) for piece in draft.pieces if piece.name in ("skirt-front", "skirt-back"))
    return WaistPlan(
        band=band,
        length=length,
        waist=waist,
        held=tuple(held),
        takes=give.shrink(along_warp=False),  # the waist runs across the grain
        ladder=tuple(ladder) if band == "waist-ribbon" else (),
        lower_longer=max(0.0, grows * ribbon_width) if band == "waist-ribbon" else 0.0,
    )


def waist_findings(plan: WaistPlan) -> tuple[Finding, ...]:
    """Returns a caution for what the cloth or the custom doesn't allow."""
    where, found = plan.band, list[Finding]()
    if plan.held_in > MOST_HELD_IN + 0.5:
        found.append(
            Finding(
                Weight.CAUTION,
                where,
                f"holds the skirt in by {plan.held_in:.0f} mm; up to about {MOST_HELD_IN:.0f} mm can be hidden.",
                "Take the rest into the darts or the side seams.",
            )
        )
    worst = max(plan.held, key=lambda each: each.part, default=None)
    if worst is not None and worst.part > plan.takes:
        found.append(
            Finding(
                Weight.CAUTION,
                f"{worst.panel}.waist",
                f"is held in by {worst.part:.1%} from {_spoken(worst.first)} to {_spoken(worst.last)};"
                f" this cloth can be shrunk by {plan.takes:.1%}.",
                "Hold in less, or try it on a scrap: what can't be shrunk stays as gathers.",
            )
        )
    return tuple(found)


def reserves_of(made_up: MadeUp) -> tuple[Reserve, ...]:
    """Returns what each seam that may be let out can give, the plan's own order."""
    pieces = {piece.name: piece for piece in made_up.pieces}
    found: dict[str, Reserve] = {}
    for pair in made_up.sewn:
        if (
            pair.kind != "seam"
            or pair.name.startswith(_NOT_THE_BODY)
            or pair.a.piece not in pieces
            or pair.b.piece not in pieces
        ):
            continue
        a, b = (_kept(pieces[side.piece], side.edge) for side in (pair.a, pair.b))
        if a is None or b is None or a + b - 2 * _SEWN < _LEAST_RESERVE:
            continue
        name = pair.name.removesuffix(".right").removesuffix(".left")
        by = a + b - 2 * _SEWN
        before = found[name].by if name in found else 0.0
        found[name] = Reserve(name, name.replace("-", " ").capitalize(), before + by)
    return tuple(found.values())


def _kept(piece: CutPiece, edge: str) -> float | None:
    """Returns what is left of an edge's allowance after the fitting, where the seam is pressed open."""
    widths = [a.after for a in piece.allowances if a.edge == edge and a.finish is Finish.SEAM and not a.is_fold]
    return min(widths) if widths else None


def _spread(panel: Piece) -> float:
    """Returns by how much a panel widens for each millimetre below the waist, its darts closed."""
    centre = "centre-front" if panel.name == "skirt-front" else "centre-back"
    ways = [_downwards(panel.edge(_known(panel, name)).path) for name in ("side", centre)]
    opening = abs(math.atan2(ways[0].cross(ways[1]), ways[0].dot(ways[1])))
    darts = sum(
        abs(math.atan2(leg.cross(other), leg.dot(other)))
        for line in panel.lines
        if line.kind is LineKind.DART and line.name.startswith("dart-") and not line.name.endswith(".left")
        for leg, other in ((line.path.start_tangent, -line.path.end_tangent),)
    )
    return opening + darts  # a dart takes out less the lower it is


def _downwards(side: Path) -> Point:
    """Returns the direction in which a side goes down from the waist."""
    return side.start_tangent if side.start.y > side.end.y else -side.end_tangent


def _known(piece: Piece, edge: str) -> str:
    """Returns an edge's name on a piece, of a whole one that of its right half."""
    names = {known.name for known in (*piece.edges, *piece.lines)}
    return edge if edge in names else f"{edge}.right"


def _spoken(stop: str) -> str:
    return stop.replace("-", " ")
