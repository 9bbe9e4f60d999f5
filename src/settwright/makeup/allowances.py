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

from dataclasses import dataclass, replace

from settwright.makeup.model import Allowance, Finish
from settwright.pattern import Layer, Piece


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
TROUSERS_HEM = Custom("trousers hem", 65.0, 45.0, Finish.HEM)
CROTCH = Custom("crotch, sewn across the inseams", 25.0, 15.0, Finish.INSET)
VENT = Custom("vent, its extension in one", 75.0, 65.0, Finish.SEAM)  # 50 wide when finished, and a turning
PATCH_TOP = Custom("top of a patch, turned in", 50.0, 40.0, Finish.HEM)
RIPPED = 10.0  # a seam's allowance before the fitting is wider than what is kept by this at least
SLEEVE_VENT = Custom("sleeve's vent, its lap in one", 60.0, 50.0, Finish.SEAM)  # 38 wide, and a turning

_BODY: dict[str, Custom] = {
    "centre-back": LET_OUT,
    "hem": HEM,
    "waist": WAIST,
    "side-back": LET_OUT,
    "side-front": LET_OUT,
    "side": LET_OUT,
    "princess-back": LET_OUT,
    "princess-front": LET_OUT,
    "armhole": ARMHOLE,
    "shoulder": SHOULDER,
    "neck": NECK,
    # a sleeve that takes the shoulder with it, or grows on the body
    "raglan": ARMHOLE,
    "overarm": SHOULDER,
    "sleeve-underarm": SEAM,
    "sleeve-hem": SLEEVE_HEM,
    # the front
    "front-edge": EDGE,
    "lapel": EDGE,
    "lapel-top": EDGE,
    "gorge": NECK,
    "neckline": EDGE,
    "collar-centre-back": SEAM,
    "collar-neck": NECK,
    # the facing of an extended front, cut in one with it
    "facing-hem": HEM,
    "facing-inner": INNER,
    "facing-shoulder": SEAM,
    "facing-gorge": NECK,
    "facing-lapel-top": EDGE,
    "facing-neckline": EDGE,
    "facing-front-edge": EDGE,
    "facing-split": SEAM,
    "corner": EDGE,
    "facing-corner": EDGE,
}
_FACING: dict[str, Custom] = {
    "lapel": EDGE,
    "front-edge": EDGE,
    "neckline": EDGE,
    "hem": HEM,
    "inner": INNER,
    "split": SEAM,
    "second-split": SEAM,
    "shoulder": SEAM,
    "gorge": NECK,
    "lapel-top": EDGE,
    "collar-centre-back": SEAM,
    "collar-neck": NECK,
}
_COLLAR: dict[str, Custom] = {"centre-back": SEAM, "neck": NECK, "end": EDGE, "outer": EDGE}
_FLAP: dict[str, Custom] = {"top": SEAM, "back-end": EDGE, "bottom": EDGE, "front-end": EDGE}
_FOLDED: dict[str, Custom] = {"mouth": SEAM, "front-end": EDGE, "inner": SEAM, "back-end": EDGE}
_PATCH: dict[str, Custom] = {"top": PATCH_TOP, "back-end": EDGE, "bottom": EDGE, "front-end": EDGE}
_BAND: dict[str, Custom] = {"lower": WAIST, "left-end": EDGE, "upper": EDGE, "right-end": EDGE}
_TOP: dict[str, Custom] = {
    "centre-back": LET_OUT,
    "waist": WAIST,
    "side": LET_OUT,
    "armhole": EDGE,
    "shoulder": LET_OUT,
    "neck": EDGE,
}
_FLY: dict[str, Custom] = {"fly": SEAM, "waist": WAIST, "inner": SEAM, "outer": INNER, "lower": EDGE}
_RAGLAN: dict[str, Custom] = {
    "overarm": SHOULDER,
    "hem": SLEEVE_HEM,
    "underarm": SEAM,
    "scye": ARMHOLE,
    "raglan": ARMHOLE,
    "neck": NECK,
}

CUSTOMS: dict[str, dict[str, Custom]] = {
    **{
        f"{piece}{lower}": _BODY
        for piece in ("back", "side", "side-back", "side-front", "front")
        for lower in ("", "-lower")
    },
    "upper-sleeve": {"hindarm": LET_OUT, "hem": SLEEVE_HEM, "forearm": SEAM, "cap": ARMHOLE},
    "under-sleeve": {"forearm": SEAM, "hem": SLEEVE_HEM, "hindarm": LET_OUT, "scye": ARMHOLE},
    "sleeve": {
        "back-underarm": SEAM,
        "hem": SLEEVE_HEM,
        "front-underarm": SEAM,
        "front-cap": ARMHOLE,
        "back-cap": ARMHOLE,
    },
    "front-sleeve": _RAGLAN,
    "back-sleeve": _RAGLAN,
    "gusset": {"back-sleeve": SEAM, "back-body": SEAM, "front-body": SEAM, "front-sleeve": SEAM},
    "under-collar": _COLLAR,
    "top-collar": _COLLAR,
    "stand-collar": _COLLAR,
    "stand-collar-facing": _COLLAR,
    "front-facing": _FACING,
    "front-facing-lower": _FACING,
    "front-facing-lowest": _FACING,
    "back-neck-facing": {"shoulder": SEAM, "neck": NECK, "outer": INNER},
    "flap": _FLAP,
    "flap-lining": _FLAP,
    "welt": _FOLDED,
    "jetting-upper": _FOLDED,
    "jetting-lower": _FOLDED,
    "pocket-mouth-facing": {"top": SEAM, "back-side": SEAM, "lower": INNER, "front-side": SEAM},
    "patch-pocket": _PATCH,
    "skirt-front": {"waist": WAIST, "side": LET_OUT, "hem": SKIRT_HEM},
    "skirt-back": {"centre-back": LET_OUT, "hem": SKIRT_HEM, "side": LET_OUT, "waist": WAIST},
    "waistband": _BAND,
    "waist-ribbon": _BAND,
    "top-front": _TOP,
    "top-back": _TOP,
    "trousers-front": {"side": LET_OUT, "hem": TROUSERS_HEM, "inseam": LET_OUT, "crotch": CROTCH, "waist": WAIST},
    "trousers-back": {"seat": LET_OUT, "inseam": LET_OUT, "hem": TROUSERS_HEM, "side": LET_OUT, "waist": WAIST},
    "trousers-waistband": {"lower": WAIST, "front-end": EDGE, "upper": EDGE, "centre-back": LET_OUT},
    "fly-facing": _FLY,
    "fly-placket": _FLY,
    "fly-shield": _FLY,
    "pocket-underlay": {"side": LET_OUT, "lower": SEAM, "inner": SEAM, "waist": WAIST},
    "pocket-facing": {"waist": WAIST, "inner": SEAM, "lower": SEAM, "mouth": EDGE},
}

# The inside, by layer and kind of edge. Widths are common practice, no source: the lining's seams are let out with the
# shell's; canvas is caught in the seams at shoulder and armhole and trimmed away at the front edge, where the stay tape
# lies; haircloth, wadding and what is laid flat on canvas has no allowance.
LINING_SEAM = Custom("lining, seam", 25.0, 20.0, Finish.SEAM)
LINING_ACROSS = Custom("lining, armhole and waist", 20.0, 15.0, Finish.INSET)
LINING_EDGE = Custom("lining, along a facing", 20.0, 15.0, Finish.INSET)
LINING_HEM = Custom("lining, hem", 30.0, 20.0, Finish.HEM)
CANVAS_SEAM = Custom("canvas, caught in a seam", 15.0, 10.0, Finish.SEAM)
NET = Custom("cut net", 0.0, 0.0, Finish.ENCLOSED)
BAG = Custom("pocketing", 12.0, 12.0, Finish.SEAM)

_LINING: dict[str, Custom] = {
    **dict.fromkeys(("armhole", "cap", "scye", "front-cap", "back-cap", "raglan", "waist", "neck"), LINING_ACROSS),
    **dict.fromkeys(("facing", "flap", "top"), LINING_EDGE),
    **dict.fromkeys(("hem", "sleeve-hem", "hem-of-half", "lower-end"), LINING_HEM),
}
_NET = ("lower-edge", "sleeve-side")  # of the back's stay
_CAUGHT = ("shoulder", "armhole", "neck", "gorge", "side", "side-front", "princess-front", "centre-back", "waist")

# the edges whose seam a vent leaves open below the stop vent-top, and what stands beyond them there
VENTED: dict[str, Custom] = {"centre-back": VENT, "side-back": VENT, "side": VENT, "hindarm": SLEEVE_VENT}


def plain_name(edge: str) -> str:
    """Returns the name of an edge without the hand that a whole piece's edges carry."""
    return edge.removesuffix(".right").removesuffix(".left")


def allowances_of(piece: Piece) -> tuple[tuple[Allowance, ...], tuple[str, ...]]:
    """Returns the allowances of a piece's edges in order, and the edges that no custom is known for.

    An unknown edge gets a plain seam's allowance; one with a reserve keeps that after the fitting.
    """
    reserves = dict(piece.reserves)
    customs = CUSTOMS.get(piece.name) or _inside(piece)
    allowances: list[Allowance] = []
    unknown: list[str] = []
    for edge in piece.edges:
        plain = plain_name(edge.name)
        if plain not in customs:
            unknown.append(edge.name)
        custom, vent = _with_reserve(customs.get(plain, SEAM), reserves.get(plain)), VENTED.get(plain)
        stops = {edge.start, edge.end, *(notch.name for notch in piece.notches if notch.edge == edge.name)}
        if vent is not None and {"vent-top", "hem"} <= stops:
            other = edge.start if edge.end == "hem" else edge.end
            allowances.append(_allowance(edge.name, custom, (other, "vent-top")))
            allowances.append(_allowance(edge.name, vent, ("vent-top", "hem")))
        else:
            allowances.append(_allowance(edge.name, custom, None))
    return tuple(allowances), tuple(unknown)


def _with_reserve(custom: Custom, reserve: float | None) -> Custom:
    if reserve is None:
        return custom
    return replace(custom, before=max(custom.before, reserve + RIPPED), after=reserve)


def _inside(piece: Piece) -> dict[str, Custom]:
    """Returns the customs of an inside piece's edges; none for a shell piece."""
    names = [plain_name(edge.name) for edge in piece.edges]
    match piece.layer:
        case Layer.SHELL:
            return {}
        case Layer.LINING:
            return {name: _LINING.get(name, LINING_SEAM) for name in names}
        case Layer.UNDERLINING:
            return CUSTOMS.get(piece.follows, {})
        case Layer.INTERLINING:
            return {name: CANVAS_SEAM if name in _CAUGHT else NET for name in names}
        case Layer.HAIRCLOTH | Layer.WADDING:
            return dict.fromkeys(names, NET)
        case Layer.POCKETING:
            return {name: NET if name in _NET else BAG for name in names}


def _allowance(edge: str, custom: Custom, stretch: tuple[str, str] | None) -> Allowance:
    return Allowance(edge, custom.before, custom.after, finish=custom.finish, stretch=stretch)
