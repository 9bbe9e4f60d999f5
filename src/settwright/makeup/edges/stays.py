"""Stays and tapes: what keeps an edge from growing, how long it is finished, how it is cut.

A stay is as long as what it lies on less what the tailor holds in. A bias strip is pressed out before it is laid, until
its threads give no more, and becomes longer and narrower as a net does; so it is cut shorter and wider. Which edges are
stayed, with what and held in by how much: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from settwright.cloth.give import Give
from settwright.cloth.net import length_factor, width_factor
from settwright.makeup.facing import FRONT_FOLDS, NECK
from settwright.makeup.model import CutPiece, Hand
from settwright.pattern import LineKind, Piece
from settwright.pattern.drafts.vents import CORNER, FACING, FOLD, TOP, UNDER

_SPARE = 12.0  # at each end of a stay, to trim
_LEAST = 20.0  # shorter edges need no stay
_BESIDE_POCKET = 25.0  # a pocket mouth's stay goes on beyond it by this


class Material(StrEnum):
    """What a stay is made of."""

    BIAS = "bias strip"
    STRAIGHT = "straight strip"  # on the lengthwise grain of the stay cloth
    TAPE = "tape"  # bought by the length: narrow linen or cotton, shrunk first


@dataclass(frozen=True)
class _Custom:
    """How one edge or line is stayed."""

    title: str
    piece: str
    edge: str
    material: Material
    width: float  # finished
    hold_in: float  # part of the length
    where: str  # how the holding in is spread
    stops: tuple[str, str] | None = None


_BIAS, _STRAIGHT, _TAPE = Material.BIAS, Material.STRAIGHT, Material.TAPE
_CUSTOMS = (
    _Custom("Break line", "front", "roll-line", _TAPE, 8.0, 0.025, "behind the roll, most over the bust"),
    _Custom("Lapel's edge", "front", "lapel", _TAPE, 8.0, 0.006, "over the belly only, flat at break and point"),
    _Custom("Lapel's top", "front", "lapel-top", _TAPE, 8.0, 0.0, "flat"),
    _Custom("Front edge", "front", "front-edge", _TAPE, 8.0, 0.003, "in its lower third, flat above"),
    _Custom("Rounded corner", "front", "corner", _BIAS, 10.0, 0.01, "evenly, so that the corner bends inwards"),
    _Custom("Neck's edge", "front", "neckline", _BIAS, 10.0, 0.012, "over the middle third"),
    _Custom("Shoulder", "front", "shoulder", _TAPE, 8.0, 0.0, "flat: the back is eased on to it"),
    _Custom("Armhole, front", "front", "armhole", _BIAS, 10.0, 0.015, "between pitch and underarm"),
    _Custom("Armhole, back", "back", "armhole", _BIAS, 10.0, 0.012, "over the blade"),
    _Custom("Back neck", "back", "neck", _BIAS, 8.0, 0.0, "flat"),
    *(
        _Custom("Pocket's mouth", piece, line, _STRAIGHT, 40.0, 0.0, "flat, the mouth cut through it")
        for piece in ("front", "front-lower")
        for line in ("flap-place", "pocket-place")
    ),
    _Custom("Hem, front", "front", "hem", _BIAS, 50.0, 0.0, "laid in the fold of the hem, easy"),
    _Custom("Hem, side", "side", "hem", _BIAS, 50.0, 0.0, "laid in the fold of the hem, easy"),
    _Custom("Hem, back", "back", "hem", _BIAS, 50.0, 0.0, "laid in the fold of the hem, easy"),
    *(
        custom
        for piece in ("back", "back-lower", "side-back", "side-back-lower", "upper-sleeve", "skirt-back")
        for custom in (
            _Custom("Vent's edge", piece, FOLD, _TAPE, 8.0, 0.0, "flat, from the vent's top to the hem"),
            *(
                _Custom("Vent's top", piece, line, _STRAIGHT, 25.0, 0.0, "flat, behind the slant that is sewn down",
                        (TOP, CORNER))
                for line in (FACING, UNDER)
            ),
        )
    ),
    _Custom("Patch pocket's top", "patch-pocket", "top", _TAPE, 8.0, 0.01, "evenly, so that the mouth lies close"),
    _Custom("Zip's edge", "skirt-back", "centre-back", _TAPE, 8.0, 0.008, "evenly", ("waist", "zip-end")),
)  # fmt: skip
_OVER = "laid over the fold, half on each side, evenly"
_FOLDS = tuple(
    _Custom(title, "front", line, _BIAS, 25.0, 0.006, _OVER)
    for title, line in (
        *(("Fold of the front", line) for line in FRONT_FOLDS),
        ("Fold of the neck's edge", NECK),
    )
)


@dataclass(frozen=True)
class Stay:
    """A stay for one edge; lengths in mm, of one piece."""

    title: str
    piece: str  # "front"
    edge: str
    count: int  # how many are cut: one for each hand
    material: Material
    along: float  # length of what it lies on
    hold_in: float  # of that, mm
    where: str
    length: float  # finished
    width: float  # finished
    cut_length: float
    cut_width: float


def stays_of(pieces: Iterable[CutPiece], give: Give) -> tuple[Stay, ...]:
    """Returns the stays of an ensemble, in the trade's order; `give` is that of the stay cloth."""
    found: list[Stay] = []
    seen: dict[str, CutPiece] = {}
    counts: dict[str, int] = {}
    for cut in pieces:
        seen.setdefault(cut.piece.name, cut)
        counts[cut.piece.name] = counts.get(cut.piece.name, 0) + 1
    for custom in (*_FOLDS, *_CUSTOMS):
        cut = seen.get(custom.piece)
        if cut is None:
            continue
        edge, count = custom.edge, counts[custom.piece]
        if cut.hand is Hand.WHOLE:  # both halves in it
            edge, count = f"{edge}.{Hand.RIGHT}", 2
        if not _has(cut.piece, edge) or _is_fold(cut.piece, edge) is not (custom in _FOLDS):
            continue
        along = _length(cut.piece, edge, custom.stops)
        if along > _LEAST:
            found.append(_stay(custom, edge, along, count, give))
    return tuple(found)


def _is_fold(piece: Piece, name: str) -> bool:
    return any(line.name == name and line.kind is LineKind.FOLD for line in piece.lines)


def _has(piece: Piece, edge: str) -> bool:
    return any(known.name == edge for known in (*piece.edges, *piece.lines))


def _length(piece: Piece, edge: str, stops: tuple[str, str] | None) -> float:
    if stops is None:
        return piece.edge(edge).path.length
    try:
        return abs(piece.stop(edge, stops[1]) - piece.stop(edge, stops[0]))
    except KeyError:
        return 0.0


def _stay(custom: _Custom, edge: str, along: float, count: int, give: Give) -> Stay:
    hold_in = round(along * custom.hold_in, 1)
    length = along - hold_in + (2 * _BESIDE_POCKET if custom.material is Material.STRAIGHT else 0.0)
    is_bias = custom.material is Material.BIAS
    longer, narrower = (length_factor(give.shear), width_factor(give.shear)) if is_bias else (1.0, 1.0)
    return Stay(
        title=custom.title,
        piece=custom.piece,
        edge=edge,
        count=count,
        material=custom.material,
        along=along,
        hold_in=hold_in,
        where=custom.where,
        length=length,
        width=custom.width,
        cut_length=(length + 2 * _SPARE) / longer,
        cut_width=custom.width / narrower,
    )
