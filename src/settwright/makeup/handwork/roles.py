"""What each piece and each seam is for, read from their names, so that the order of work can speak of any cut.

Names follow docs/names.md. A name that no rule knows is `OTHER`: it is cut, sewn and finished by a plain custom and
never forgotten.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from settwright.makeup.allowances import plain_name
from settwright.makeup.model import CutPiece, JoinSide, SewnPair
from settwright.pattern import Layer, Meeting, Piece

JACKET, SKIRT, TROUSERS = "jacket", "skirt", "trousers"


class Part(StrEnum):
    """The part of a garment that a piece belongs to."""

    BODY = "body"
    TOP = "bodice top"
    SLEEVE = "sleeve"
    GUSSET = "gusset"
    COLLAR = "collar"
    FACING = "facing"
    POCKET = "pocket"
    PATCH = "patch of a bound buttonhole"
    COVER = "cover of a button"
    FLY = "fly"
    BAND = "band"
    LINING = "lining"
    INTERLINING = "interlining"
    STAY = "stay"
    OTHER = "other"


# the first word found in a piece's name decides
_WORDS: tuple[tuple[str, Part], ...] = (
    ("buttonhole", Part.PATCH),
    ("button-cover", Part.COVER),
    ("interlining", Part.INTERLINING),
    ("canvas", Part.INTERLINING),
    ("underlining", Part.INTERLINING),
    ("stay", Part.STAY),
    ("sleeve-head", Part.STAY),
    ("shoulder-pad", Part.STAY),
    ("tape", Part.STAY),
    ("fly", Part.FLY),
    ("flap", Part.POCKET),
    ("pocket", Part.POCKET),
    ("welt", Part.POCKET),
    ("jetting", Part.POCKET),
    ("lining", Part.LINING),
    ("collar", Part.COLLAR),
    ("facing", Part.FACING),
    ("waistband", Part.BAND),
    ("ribbon", Part.BAND),
    ("gusset", Part.GUSSET),
    ("sleeve", Part.SLEEVE),
)
_FRONTS = ("front", "side-front", "side")  # what is joined to the front before the two halves of the body meet
_BACKS = ("back", "side-back")
_TOPS = ("top-front", "top-back")
_BODIES = (*_FRONTS, *_BACKS, "skirt-front", "skirt-back", "trousers-front", "trousers-back")


_LAYERS = {
    Layer.LINING: Part.LINING,
    Layer.INTERLINING: Part.INTERLINING,
    Layer.HAIRCLOTH: Part.INTERLINING,
    Layer.UNDERLINING: Part.INTERLINING,
    Layer.WADDING: Part.INTERLINING,
}


def part_of(piece: Piece) -> Part:
    """Returns the part that a piece belongs to, by its name ("front", "side-back-lower", "flap-lining") and layer."""
    name = piece.name
    for word, part in _WORDS:
        if word in name and part in (Part.POCKET, Part.FLY):
            return part  # a flap's lining, a fly's interlining are made up with it
    if piece.layer in _LAYERS:
        return _LAYERS[piece.layer]
    for word, part in _WORDS:
        if word in name:
            return part
    upper = name.removesuffix("-lower")
    if upper in _TOPS:
        return Part.TOP
    return Part.BODY if upper in _BODIES or upper.startswith(("skirt-", "trousers-")) else Part.OTHER


class Joint(StrEnum):
    """What a seam does in the garment; the order in which such seams are sewn where they meet is `rank_of`."""

    DART = "dart"
    BACK_DART = "dart of the back"
    FRONT_PANEL = "seam within the front"
    BACK_PANEL = "seam within the back"
    CENTRE_BACK = "centre back"
    WAIST_FRONT = "waist seam of the front"
    WAIST_BACK = "waist seam of the back"
    SIDE = "side seam"
    SHOULDER = "shoulder"
    SLEEVE_SEAM = "seam within the sleeve"
    ARMHOLE = "armhole"
    RAGLAN = "raglan seam"
    GUSSET = "gusset"
    COLLAR_SEAM = "seam within the collar"
    SHAWL_BACK = "centre back of a shawl"
    SHAWL_NECK = "neck of a shawl"
    NECK = "neck"
    COLLAR_EDGE = "edge of the collar"
    EDGE = "faced edge"
    FACING_JOIN = "join within a facing"
    FACING_FOLD = "fold across a facing"
    FACING_SHOULDER = "shoulder of the facings"
    FACING_BACK = "centre back of the facings"
    FACING_COLLAR = "neck of a shawl's facings"
    FACING_NECK = "neck of the facings"
    POCKET = "pocket"
    PATCH = "bound buttonhole"
    FLY = "fly"
    FLY_SHIELD = "shield of the fly"
    INSEAM = "inseam"
    SEAT = "seat"
    BAND_SEAM = "seam within the band"
    WAIST = "waist"
    LINING_SEAM = "seam within the lining"
    LINING_IN = "lining to the garment"
    INTERLINING = "interlining"
    STAY = "stay"
    OTHER = "other seam"


# Which of two seams that meet at a corner is sewn first: the lower rank. Equal ranks are ordered by custom alone.
_RANKS: dict[Joint, int] = {
    Joint.DART: 0,
    Joint.BACK_DART: 0,
    Joint.FACING_JOIN: 1,
    Joint.FACING_FOLD: 1,
    Joint.FRONT_PANEL: 1,
    Joint.BACK_PANEL: 1,
    Joint.CENTRE_BACK: 1,
    Joint.WAIST_FRONT: 2,  # each half by itself, so that the side seams run through and can be let out
    Joint.WAIST_BACK: 2,
    Joint.FLY: 2,
    Joint.SIDE: 3,
    Joint.INSEAM: 3,
    Joint.SHOULDER: 3,
    Joint.SLEEVE_SEAM: 3,
    Joint.COLLAR_SEAM: 3,
    Joint.SHAWL_BACK: 3,
    Joint.FACING_SHOULDER: 3,
    Joint.FACING_BACK: 3,
    Joint.FACING_COLLAR: 4,
    Joint.SHAWL_NECK: 4,
    Joint.SEAT: 4,
    Joint.RAGLAN: 4,
    Joint.GUSSET: 5,
    Joint.ARMHOLE: 5,
    Joint.NECK: 5,
    Joint.FACING_NECK: 5,
    Joint.COLLAR_EDGE: 5,
    Joint.EDGE: 5,
    Joint.WAIST: 5,
    Joint.BAND_SEAM: 6,
}


def rank_of(joint: Joint) -> int | None:
    """Returns the rank of a joint, or None for one whose place doesn't follow from the seams that it meets."""
    return _RANKS.get(joint)


@dataclass(frozen=True)
class Work:
    """A seam or dart to be sewn: what it is for, and in which garment."""

    name: str  # "side-front.right"; of a dart "front.right: dart"
    garment: str
    joint: Joint
    a: JoinSide
    b: JoinSide
    stops: tuple[str, ...]

    @property
    def key(self) -> tuple[str, str]:
        """Names it among all garments; two garments may each have a seam of one name."""
        return self.garment, self.name


def joint_of(seam: SewnPair, piece: Callable[[str], CutPiece]) -> Joint | None:
    """Returns what a seam does, or None for a touch that isn't sewn."""
    a, b = piece(seam.a.piece), piece(seam.b.piece)
    parts = (_part_at(a, seam.a.edge), _part_at(b, seam.b.edge))
    edges = (plain_name(seam.a.edge), plain_name(seam.b.edge))
    if seam.kind != "seam":
        if seam.kind != Meeting.OVERLAY.value:
            return None
        sewn = {Part.PATCH: Joint.PATCH, Part.POCKET: Joint.POCKET}
        joint = next((sewn[part] for part in parts if part in sewn), None)
        # a pocket's underlay lies beneath its mouth and is sewn at its own edges
        return None if joint is Joint.POCKET and "pocket-line" in edges else joint
    if "fly-shield" in (a.piece.name, b.piece.name):
        return Joint.FLY_SHIELD  # felled over the zip's tape when all else is done
    return _within(parts, edges) or _of_body(a, b, parts, edges)


def _part_at(piece: CutPiece, edge: str) -> Part:
    """Returns the part that an edge belongs to: the facing of an extended front is a facing."""
    part = part_of(piece.piece)
    return Part.FACING if part is Part.BODY and edge.startswith("facing-") else part


# the first part that has a side decides: the joint where it has both, and where it has one
_DECIDING: tuple[tuple[Part, Joint, Joint], ...] = (
    (Part.LINING, Joint.LINING_SEAM, Joint.LINING_IN),
    (Part.INTERLINING, Joint.INTERLINING, Joint.INTERLINING),
    (Part.STAY, Joint.STAY, Joint.STAY),
    (Part.PATCH, Joint.PATCH, Joint.PATCH),
    (Part.POCKET, Joint.POCKET, Joint.POCKET),
    (Part.FLY, Joint.FLY, Joint.FLY),
    (Part.GUSSET, Joint.GUSSET, Joint.GUSSET),
    (Part.BAND, Joint.BAND_SEAM, Joint.WAIST),
    (Part.COLLAR, Joint.COLLAR_EDGE, Joint.NECK),
    (Part.SLEEVE, Joint.SLEEVE_SEAM, Joint.ARMHOLE),
    (Part.FACING, Joint.FACING_JOIN, Joint.EDGE),
)


def _within(parts: tuple[Part, Part], edges: tuple[str, str]) -> Joint | None:
    """Returns the joint of a seam that any part but the body has a side in; None for the body's own."""
    if Part.POCKET in parts and Part.BODY in parts and edges[0] == edges[1] == "side":
        return Joint.SIDE  # the pocket's underlay, taken into the side seam
    for part, both, one in _DECIDING:
        if part in parts:
            joint = both if parts[0] is parts[1] else one
            return _by_edge(joint, parts, edges)
    return None


def _by_edge(joint: Joint, parts: tuple[Part, Part], edges: tuple[str, str]) -> Joint:
    """Returns the joint as its edges tell it more closely."""
    if joint is Joint.COLLAR_EDGE and edges[0] == "centre-back":
        joint = Joint.COLLAR_SEAM
    elif joint is Joint.NECK and Part.FACING in parts:
        joint = Joint.FACING_NECK
    elif joint is Joint.ARMHOLE and "raglan" in edges:
        joint = Joint.RAGLAN
    elif joint is Joint.FACING_JOIN:
        joint = _FACING_BY_EDGE.get(edges[0].removeprefix("facing-"), joint)
    return joint


_FACING_BY_EDGE: dict[str, Joint] = {
    "shoulder": Joint.FACING_SHOULDER,
    "collar-centre-back": Joint.FACING_BACK,
    "neck": Joint.FACING_COLLAR,
}
_BY_EDGE: dict[str, Joint] = {
    "collar-centre-back": Joint.SHAWL_BACK,
    "centre-back": Joint.CENTRE_BACK,
    "shoulder": Joint.SHOULDER,
    "overarm": Joint.SHOULDER,
    "sleeve-underarm": Joint.SIDE,
    "inseam": Joint.INSEAM,
    "crotch": Joint.SEAT,
    "seat": Joint.SEAT,
    "side": Joint.SIDE,
}


def _of_body(a: CutPiece, b: CutPiece, parts: tuple[Part, Part], edges: tuple[str, str]) -> Joint:
    """Returns the joint of a seam between two pieces of the body."""
    names = {piece.piece.name.removesuffix("-lower") for piece in (a, b)}
    joint = Joint.FRONT_PANEL if names <= set(_FRONTS) else Joint.BACK_PANEL if names <= set(_BACKS) else Joint.SIDE
    if Part.OTHER in parts:
        joint = Joint.OTHER
    elif "collar-neck" in edges:
        joint = Joint.SHAWL_NECK
    elif edges == ("waist", "waist"):
        of_jacket = Joint.WAIST_FRONT if is_front(a.piece.name) else Joint.WAIST_BACK
        joint = of_jacket if a.garment == JACKET else Joint.WAIST
    return _BY_EDGE.get(edges[0], joint)


def is_front(piece: str) -> bool:
    """Whether a piece of a jacket's body is joined to the front before the body's halves meet."""
    return piece.removesuffix("-lower") in _FRONTS
