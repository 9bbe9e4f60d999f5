"""What stands beyond every seam line, by piece and edge, in its two states.

Before the fitting the allowances are wide everywhere, neck and armhole included, and the cutting layout uses these;
after it the cloth that may be wanted again stays (side, centre back, shoulder), the rest is trimmed.

Ranges: 25–40 mm before the fitting, 50–75 at hems; after it 20–25 at seams that may be let out, 15 at others, about
10 at necks and edges, 40–50 at hems: common practice, no source. Within them these were seen in handbooks: 1 in at a
bespoke side seam; inlays of 3/4 in at the shoulder and the top sleeve's hindarm, 1/2 in at neck and scye, 1 in at
the forepart's side seam, sleeve turn-up 1 1/2 in, skirt hem 3 in (Vincent, Cutting from the Cloth and The Cutting of
Ladies' Garments).
"""

from __future__ import annotations

from dataclasses import dataclass

from settwright.makeup.model import Allowance, Finish
from settwright.pattern import Piece


@dataclass(frozen=True)
class Custom:
    """The custom for one kind of edge: widths before and after the fitting, and what becomes of the allowance."""

    title: str
    before: float
    after: float
    finish: Finish


LET_OUT = Custom("seam to let out", 35.0, 25.0, Finish.SEAM)
SHOULDER = Custom("shoulder", 30.0, 20.0, Finish.SEAM)
SEAM = Custom("seam", 25.0, 15.0, Finish.SEAM)
ARMHOLE = Custom("armhole and sleeve head", 25.0, 15.0, Finish.INSET)
WAIST = Custom("waist", 25.0, 15.0, Finish.INSET)
NECK = Custom("neck and gorge", 25.0, 10.0, Finish.INSET)
EDGE = Custom("edge", 25.0, 10.0, Finish.ENCLOSED)
INNER = Custom("inner edge of a facing", 25.0, 15.0, Finish.ENCLOSED)
HEM = Custom("hem", 60.0, 45.0, Finish.HEM)
SLEEVE_HEM = Custom("sleeve hem", 50.0, 40.0, Finish.HEM)
SKIRT_HEM = Custom("skirt hem", 75.0, 50.0, Finish.HEM)
VENT = Custom("vent, its extension in one", 75.0, 65.0, Finish.SEAM)  # 50 wide when finished, and a turning

CUSTOMS: dict[str, dict[str, Custom]] = {
    "back": {
        "centre-back": LET_OUT,
        "hem": HEM,
        "side-back": LET_OUT,
        "armhole": ARMHOLE,
        "shoulder": SHOULDER,
        "neck": NECK,
    },
    "side": {"side-back": LET_OUT, "hem": HEM, "side-front": LET_OUT, "armhole": ARMHOLE},
    "front": {
        "side-front": LET_OUT,
        "hem": HEM,
        "front-edge": EDGE,
        "lapel": EDGE,
        "lapel-top": EDGE,
        "gorge": NECK,
        "shoulder": SHOULDER,
        "armhole": ARMHOLE,
        # the facing of an extended front, cut in one with it
        "facing-hem": HEM,
        "facing-inner": INNER,
        "facing-shoulder": SEAM,
        "facing-gorge": NECK,
        "facing-lapel-top": EDGE,
    },
    "upper-sleeve": {"hindarm": LET_OUT, "hem": SLEEVE_HEM, "forearm": SEAM, "cap": ARMHOLE},
    "under-sleeve": {"forearm": SEAM, "hem": SLEEVE_HEM, "hindarm": LET_OUT, "scye": ARMHOLE},
    "under-collar": {"centre-back": SEAM, "neck": NECK, "end": EDGE, "outer": EDGE},
    "top-collar": {"outer": EDGE, "end": EDGE, "neck": NECK},
    "front-facing": {
        "lapel": EDGE,
        "front-edge": EDGE,
        "hem": HEM,
        "inner": INNER,
        "shoulder": SEAM,
        "gorge": NECK,
        "lapel-top": EDGE,
    },
    "back-neck-facing": {"shoulder": SEAM, "neck": NECK, "outer": INNER},
    "flap": {"top": SEAM, "back-end": EDGE, "bottom": EDGE, "front-end": EDGE},
    "flap-lining": {"top": SEAM, "back-end": EDGE, "bottom": EDGE, "front-end": EDGE},
    "skirt-front": {"waist": WAIST, "side": LET_OUT, "hem": SKIRT_HEM},
    "skirt-back": {"centre-back": LET_OUT, "hem": SKIRT_HEM, "side": LET_OUT, "waist": WAIST},
    "waistband": {"lower": WAIST, "left-end": EDGE, "upper": EDGE, "right-end": EDGE},
}

# where the custom changes part of the way along an edge: (from stop, to stop, custom), covering the whole edge
_STRETCHES: dict[tuple[str, str], tuple[tuple[str, str, Custom], ...]] = {
    ("skirt-back", "centre-back"): (("waist", "vent-top", LET_OUT), ("vent-top", "hem", VENT)),
}


def plain_name(edge: str) -> str:
    """Returns the name of an edge without the hand that a whole piece's edges carry."""
    return edge.removesuffix(".right").removesuffix(".left")


def allowances_of(piece: Piece) -> tuple[tuple[Allowance, ...], tuple[str, ...]]:
    """Returns the allowances of a piece's edges in order, and the edges that no custom is known for.

    An unknown edge gets a plain seam's allowance.
    """
    customs = CUSTOMS.get(piece.name, {})
    allowances: list[Allowance] = []
    unknown: list[str] = []
    for edge in piece.edges:
        plain = plain_name(edge.name)
        if plain not in customs:
            unknown.append(edge.name)
        stops = {edge.start, edge.end, *(notch.name for notch in piece.notches if notch.edge == edge.name)}
        stretches = _STRETCHES.get((piece.name, plain), ())
        if stretches and stops.issuperset({stop for stretch in stretches for stop in stretch[:2]}):
            allowances += [_allowance(edge.name, custom, (first, last)) for first, last, custom in stretches]
        else:
            allowances.append(_allowance(edge.name, customs.get(plain, SEAM), None))
    return tuple(allowances), tuple(unknown)


def _allowance(edge: str, custom: Custom, stretch: tuple[str, str] | None) -> Allowance:
    return Allowance(edge, custom.before, custom.after, finish=custom.finish, stretch=stretch)
