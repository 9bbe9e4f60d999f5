"""The ids that a commission may speak of, as docs/names.md lists them, so that a slip of the pen is caught by name."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache


@dataclass(frozen=True, slots=True)
class PieceName:
    """A piece that may be named: its edges and lines with their stops, and its marks."""

    name: str
    garment: str
    is_pair: bool
    edges: tuple[tuple[str, tuple[str, ...]], ...]
    marks: tuple[str, ...] = ()
    fold: str | None = None  # of a whole piece drafted as a half: its other edges have a right and a left one

    @property
    def instances(self) -> tuple[str, ...]:
        """What is cut of it."""
        return (f"{self.name}.right", f"{self.name}.left") if self.is_pair else (self.name,)


def _edges(text: str) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Reads "edge: stop stop; edge: stop"."""
    parts = (part.partition(":") for part in text.split(";"))
    return tuple((name.strip(), tuple(stops.split())) for name, _, stops in parts)


PIECES: tuple[PieceName, ...] = (
    PieceName(
        "back",
        "jacket",
        True,
        _edges(
            "centre-back: nape hem blade waist hip; hem: centre-back side-back hang-end;"
            "side-back: hem underarm-back hip waist; armhole: underarm-back shoulder-point hindarm-top back-pitch;"
            "shoulder: shoulder-point neck-point; neck: neck-point nape; collar-edge: centre-back shoulder;"
            "bust: ; waist: ; hip:"
        ),
    ),
    PieceName(
        "side",
        "jacket",
        True,
        _edges(
            "side-back: underarm-back hem waist hip; hem: side-back side-front;"
            "side-front: hem underarm-front hip waist; armhole: underarm-front underarm-back underarm;"
            "bust: ; waist: ; hip:"
        ),
    ),
    PieceName(
        "front",
        "jacket",
        True,
        _edges(
            "side-front: underarm-front hem waist hip; hem: side-front front-corner hang-end centre-front;"
            "front-edge: hem break-point; lapel: break-point lapel-point; lapel-top: lapel-point notch;"
            "gorge: notch neck-point; shoulder: neck-point shoulder-point;"
            "armhole: shoulder-point underarm-front front-pitch forearm-top;"
            "centre-front: hem gorge waist break-point; roll-line: break-point neck; flap-place: front-end back-end;"
            "bust: ; waist: ; hip:"
        ),
        ("button-1", "button-2", "button-3", "button-4", "button-5", "button-6", "bust-point"),
    ),
    PieceName(
        "upper-sleeve",
        "jacket",
        True,
        _edges(
            "hindarm: hindarm-top hem elbow; hem: hindarm forearm; forearm: hem forearm-top elbow;"
            "cap: forearm-top hindarm-top front-pitch shoulder-point back-pitch; elbow:"
        ),
    ),
    PieceName(
        "under-sleeve",
        "jacket",
        True,
        _edges(
            "forearm: forearm-top hem elbow; hem: forearm hindarm; hindarm: hem hindarm-top elbow;"
            "scye: hindarm-top forearm-top underarm-back underarm underarm-front; elbow:"
        ),
    ),
    PieceName(
        "under-collar",
        "jacket",
        True,
        _edges(
            "centre-back: outer nape; neck: nape notch neck-point; end: notch collar-point;"
            "outer: collar-point centre-back; roll-line:"
        ),
    ),
    PieceName(
        "top-collar",
        "jacket",
        False,
        _edges(
            "outer: centre-back collar-point; end: collar-point notch; neck: notch nape neck-point;"
            "centre-back: nape outer; roll-line:"
        ),
        fold="centre-back",
    ),
    PieceName(
        "front-facing",
        "jacket",
        True,
        _edges(
            "lapel: lapel-point break-point; front-edge: break-point hem; hem: front-corner inner;"
            "inner: hem shoulder; shoulder: inner neck-point; gorge: neck-point notch; lapel-top: notch lapel-point"
        ),
    ),
    PieceName(
        "back-neck-facing",
        "jacket",
        False,
        _edges("shoulder: ; neck: neck-point nape; outer: ; centre-back:"),
        fold="centre-back",
    ),
    PieceName("flap", "jacket", True, _edges("top: front-end back-end; back-end: ; bottom: ; front-end:")),
    PieceName(
        "skirt-front",
        "skirt",
        False,
        _edges(
            "waist: centre-front side dart-1-a dart-1-b; side: waist hem hip; hem: side centre-front;"
            "centre-front: hem waist; hip: ; jacket-hem: centre-front hang-end"
        ),
        fold="centre-front",
    ),
    PieceName(
        "skirt-back",
        "skirt",
        True,
        _edges(
            "centre-back: waist hem zip-end vent-top; hem: centre-back side; side: hem waist hip;"
            "waist: side centre-back dart-1-a dart-1-b dart-2-a dart-2-b; hip: ; jacket-hem: centre-back hang-end"
        ),
    ),
    PieceName("waistband", "skirt", False, _edges("lower: ; left-end: ; upper: ; right-end:")),
)

# Seams and touches; those across have no hand.
ACROSS: tuple[str, ...] = ("centre-back", "under-collar-centre-back", "skirt-centre-back", "closing")
HANDED: tuple[str, ...] = (
    "side-back",
    "side-front",
    "shoulder",
    "sleeve-front",
    "sleeve-back",
    "under-sleeve-back",
    "under-sleeve-side",
    "under-sleeve-front",
    "forearm",
    "hindarm",
    "gorge",
    "neck",
    "collar-outer",
    "collar-end",
    "facing-front-edge",
    "facing-lapel",
    "facing-lapel-top",
    "facing-gorge",
    "facing-neck",
    "facing-shoulder",
    "collar-on-back",
    "flap",
    "jacket-over-skirt-front",
    "jacket-over-skirt-back",
    "skirt-side",
    *("waist-front-1", "waist-front-2", "waist-back-1", "waist-back-2", "waist-back-3"),
)


@cache
def piece_of(instance: str) -> PieceName | None:
    """Returns the piece that an instance is cut from, or None if there is no such instance."""
    return next((piece for piece in PIECES if instance in piece.instances), None)


def instances() -> tuple[str, ...]:
    """Returns the names of everything that may be cut."""
    return tuple(name for piece in PIECES for name in piece.instances)


def stops_of(piece: PieceName, edge: str) -> tuple[str, ...] | None:
    """Returns the stops of an edge or line, or None if the piece has none of that name."""
    edges = dict(piece.edges)
    if piece.fold is not None and edge not in edges:
        edge = edge.removesuffix(".right").removesuffix(".left")
    return edges.get(edge)


def joins() -> Iterator[str]:
    """Yields every name that importance may be said of."""
    yield from ACROSS
    for name in HANDED:
        yield from (name, f"{name}.right", f"{name}.left")
