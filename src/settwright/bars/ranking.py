"""Where the centre front may lie: on or beside the leading and the receding bar, compared with figures.

Each choice is one pin on the centre front; everything else follows as the match finds it, beginning at the match as it
stands.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from settwright.bars.joins import base_name
from settwright.bars.match import Prepared, match
from settwright.bars.model import Axis, Drift, Importance, Join, Match, Pin
from settwright.bars.report import telling_upright
from settwright.cloth import Bar, Cloth
from settwright.cloth.dominance import warp_dominance
from settwright.geometry import Point
from settwright.geometry.tolerances import HAND
from settwright.makeup.model import CutPiece, Hand

SAME_PLACE = 0.5  # mm: two names of one place are told once
NARROW = 6.0  # mm: a bar as narrow as this has no off-centre worth the name


@dataclass(frozen=True)
class FrontPlace:
    """One place of the sett on which the centre front may lie; `part` in words: "middle", "left edge"."""

    bar: str
    part: str
    place: float  # mm from the sett's origin

    @property
    def said(self) -> str:
        """The place in words."""
        return f"{self.part} of {self.bar}" if self.bar else self.part


@dataclass(frozen=True)
class FrontChoice:
    """A place for the centre front, and what it makes of everything else."""

    at: FrontPlace
    pin: Pin
    match: Match
    fronts_mirror: bool  # right and left front show mirrored bars
    worst_level: tuple[str, float]  # of the joins that must always meet: the join, and its miss over what shape takes
    worst_upright: tuple[str, float]  # where each counts most
    level_misses: int  # joins whose level bars miss by more than a millimetre over what shape takes
    is_as_planned: bool  # the match as it stands has the centre front here

    @property
    def cost(self) -> float:
        """Cost of the whole match."""
        return self.match.cost


@dataclass(frozen=True)
class Ranking:
    """All sensible places of the centre front, the best first; empty where no front or no upright bar is matched."""

    choices: tuple[FrontChoice, ...]
    piece: str = ""
    line: str = ""


def front_places(cloth: Cloth) -> tuple[FrontPlace, ...]:
    """Returns the places to compare: middle, edges and halfway to either edge of the leading and the receding bar,
    and the middles of the gaps between leading bars and between the two.

    In an even sett a place and its mirror image come out alike; one of them is told.
    """
    dominance, sequence = warp_dominance(cloth), cloth.warp
    bars = [bar for bar in (dominance.dominant, dominance.recessive) if bar is not None]
    found: list[FrontPlace] = []
    for bar in bars:
        start = sequence.starts[sequence.bars.index(bar)]
        parts = [("middle", 0.5), ("left edge", 0.0), ("right edge", 1.0)]
        if bar.width > NARROW:
            parts += [("left of the middle", 0.25), ("right of the middle", 0.75)]
        found += [FrontPlace(bar.name, part, (start + share * bar.width) % sequence.repeat) for part, share in parts]
    if bars:
        found += _gaps(cloth, bars)
    kept: list[FrontPlace] = []
    for place in found:
        images = [place.place]
        if sequence.is_even:
            images.append(2 * sequence.pivots[0] - place.place)
        if not any(_apart(image, other.place, sequence.repeat) < SAME_PLACE for image in images for other in kept):
            kept.append(place)
    return tuple(kept)


def _gaps(cloth: Cloth, bars: Sequence[Bar]) -> list[FrontPlace]:
    """Returns the middles between neighbouring ones of these bars, and opposite the leading one."""
    sequence = cloth.warp
    middle = {bar.name: sequence.starts[sequence.bars.index(bar)] + bar.width / 2 for bar in bars}
    leading = middle[bars[0].name]
    gaps = [FrontPlace("", f"halfway between one {bars[0].name} and the next", leading + sequence.repeat / 2)]
    if len(bars) > 1:
        on = (middle[bars[1].name] - leading) % sequence.repeat
        back = sequence.repeat - on
        gaps += [
            FrontPlace("", f"between {bars[0].name} and {bars[1].name} to its right", leading + on / 2),
            FrontPlace("", f"between {bars[0].name} and {bars[1].name} to its left", leading - back / 2),
        ]
    return [FrontPlace(gap.bar, gap.part, gap.place % sequence.repeat) for gap in gaps]


def _apart(first: float, second: float, repeat: float) -> float:
    off = (first - second) % repeat
    return min(off, repeat - off)


def centre_of(pieces: Sequence[CutPiece]) -> tuple[CutPiece, str, Point] | None:
    """Returns the piece, the line and the point by which the centre front is pinned: the jacket's front, else the
    skirt's; None where neither is matched."""
    for name in ("front.right", "skirt-front"):
        for piece in pieces:
            if piece.name != name or not piece.is_matched:
                continue
            for line in piece.piece.lines:
                if line.name == "centre-front":
                    return piece, line.name, line.path.at(line.path.length / 2)
    return None


def rank_fronts(prepared: Prepared, pins: Sequence[Pin], now: Match) -> Ranking:
    """Returns the places of the centre front ranked by cost (ties: as listed); `now` is the match as it stands.

    Pins for the upright bars of the fronts give way to each choice; all others stay.
    """
    cloth = prepared.cloth
    centre = centre_of(prepared.matched) if cloth.has_upright_bars else None
    if centre is None:
        return Ranking(())
    piece, line, at = centre
    kept = [pin for pin in pins if pin.axis is Axis.LEVEL or base_name(pin.piece) != base_name(piece.name)]
    lies = now.phase(piece.name)
    turned = lies.orientation.place(at, piece.grain_turn)
    planned = (lies.u + turned.x) % cloth.warp.repeat
    choices: list[FrontChoice] = []
    for place in front_places(cloth):
        pin = Pin(piece.name, at, Axis.UPRIGHT, place.place, "centre-front")
        found = match(prepared, [*kept, pin], now, is_wide=True)
        is_planned = _apart(planned, place.place, cloth.warp.repeat) < HAND
        choices.append(_choice(place, pin, found, piece, is_planned))
    choices.sort(key=lambda choice: choice.cost)  # stable
    return Ranking(tuple(choices), piece.name, line)


def _choice(place: FrontPlace, pin: Pin, found: Match, piece: CutPiece, is_planned: bool) -> FrontChoice:
    drifts = {drift.join: drift for drift in found.drifts}
    held = [(join, drifts[join.name]) for join in found.joins if join.importance is Importance.ALWAYS]
    over = [
        (join, max(0.0, drift.worst_level - drift.floor), (telling_upright(join, drift) or (0.0, ""))[0])
        for join, drift in held
        if join.kind != "pair"
    ]
    return FrontChoice(
        at=place,
        pin=pin,
        match=found,
        fronts_mirror=piece.hand is not Hand.WHOLE and _mirrors(found, piece, drifts),
        worst_level=max(((join.name, miss) for join, miss, _ in over), key=_by_miss, default=("", 0.0)),
        worst_upright=max(((join.name, miss) for join, _, miss in over), key=_by_miss, default=("", 0.0)),
        level_misses=sum(miss > HAND + 1e-6 for _, miss, _ in over),
        is_as_planned=is_planned,
    )


def _by_miss(entry: tuple[str, float]) -> float:
    return round(entry[1], 3)


def _mirrors(found: Match, piece: CutPiece, drifts: dict[str, Drift]) -> bool:
    alike: Join | None = next((j for j in found.joins if j.name == f"{base_name(piece.name)}-alike"), None)
    return alike is not None and drifts[alike.name].upright is not None and drifts[alike.name].worst_upright <= HAND


__all__ = ["FrontChoice", "FrontPlace", "Ranking", "centre_of", "front_places", "rank_fronts"]
