"""The ids that a commission may speak of, as docs/names.md lists them, so that a slip of the pen is caught by name.

The table is the union of every cut: whether a commission's own cut has a piece, an edge or a stop, its draft says.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache

from settwright.commission.design import CentreBack, JacketDesign, SkirtDesign, TrousersDesign, TrousersWaist


@dataclass(frozen=True, slots=True)
class PieceName:
    """A piece that may be named: its edges and lines with their stops, and its marks.

    A # in a name stands for any number.
    """

    name: str
    garment: str
    cut: str  # "pair", "whole", or "either" by the design
    edges: tuple[tuple[str, tuple[str, ...]], ...]
    marks: tuple[str, ...] = ()
    fold: str | None = None  # of a whole piece drafted as a half: its other edges have a right and a left one

    @property
    def instances(self) -> tuple[str, ...]:
        """What may be cut of it, by one design or another."""
        pair = (f"{self.name}.right", f"{self.name}.left")
        return {"pair": pair, "whole": (self.name,), "either": (*pair, self.name)}[self.cut]


@dataclass(frozen=True, slots=True)
class Garments:
    """What is commissioned."""

    jacket: JacketDesign | None = None
    skirt: SkirtDesign | None = None
    trousers: TrousersDesign | None = None

    @property
    def names(self) -> tuple[str, ...]:
        """Returns the garments' names."""
        every = (("jacket", self.jacket), ("skirt", self.skirt), ("trousers", self.trousers))
        return tuple(name for name, design in every if design is not None)

    def instances_of(self, piece: PieceName) -> tuple[str, ...]:
        """Returns what is cut of a piece."""
        if piece.cut != "either":
            return piece.instances
        pair, whole = piece.instances[:2], piece.instances[2:]
        if piece.name in ("back", "back-lower"):
            return whole if self.jacket and self.jacket.centre_back is CentreBack.FOLD else pair
        if piece.name == "trousers-waistband":
            return whole if self.trousers and self.trousers.waist is TrousersWaist.BAND_WHOLE else pair
        return pair if self.jacket and self.jacket.stand_halves else whole


# name, garment, cut, and of a piece drafted as a half its fold; below it "edge: stops" of edges and lines; * marks
_TABLE = """
back jacket either centre-back
    centre-back: nape waist blade hem vent-top hip; waist: centre-back princess-back side-back side dart-a dart-b;
    princess-back: waist shoulder hem armhole hip;
    shoulder: princess neck-point shoulder-point shoulder-dart-b shoulder-dart-a; neck: neck-point nape raglan-back;
    collar-edge: centre-back shoulder collar-third; bust:; hem: centre-back princess-back hang-end side side-back;
    armhole: princess-back shoulder-point back-pitch underarm-back hindarm-top underarm raglan-pitch-back;
    shoulder-dart: shoulder-dart-b shoulder-dart-a; hip:; side-back: waist underarm-back hem vent-top hip;
    side: waist underarm bust-dart-a bust-dart-b hem hip vent-top; dart-back-leg: dart-top waist dart-end;
    dart-front-leg: dart-top waist dart-end; sleeve-underarm: underarm hem; sleeve-hem: underarm overarm;
    overarm: hem neck-point shoulder-point; gusset-slit: underarm slit-end; raglan: armhole neck;
    vent-fold: vent-top hem; vent-facing: vent-top hem vent-corner; vent-lap: vent-top hem vent-corner;
    * dart-end dart-top shoulder-dart-point slit-end
side jacket pair
    side-back: underarm-back waist hem vent-top hip; waist: side-back side-front;
    side-front: waist underarm-front under-bust hem hip; armhole: underarm-front underarm-back underarm; bust:;
    hem: side-back side-front; hip:;
    vent-fold: vent-top hem; vent-lap: vent-top hem vent-corner;
side-back jacket pair
    princess-back: shoulder waist armhole hem hip; waist: princess-back side; side: waist underarm hem hip vent-top;
    armhole: underarm shoulder-point hindarm-top back-pitch princess-back; shoulder: shoulder-point princess; bust:;
    hem: princess-back side; sleeve-underarm: underarm hem; sleeve-hem: underarm overarm;
    overarm: hem princess shoulder-point; gusset-slit: underarm slit-end; hip:;
    vent-fold: vent-top hem; vent-facing: vent-top hem vent-corner;
    * slit-end
side-front jacket pair
    side: underarm waist hem vent-top hip; waist: side princess-front;
    princess-front: waist shoulder bust hem armhole hip; shoulder: princess shoulder-point;
    armhole: shoulder-point underarm front-pitch forearm-top princess-front; bust:; hem: side princess-front;
    overarm: princess hem shoulder-point; sleeve-hem: overarm underarm; sleeve-underarm: hem underarm;
    gusset-slit: underarm slit-end; hip:;
    vent-fold: vent-top hem; vent-lap: vent-top hem vent-corner;
    * slit-end twin-button-#
front jacket pair
    princess-front: shoulder waist bust armhole hem hip;
    waist: princess-front front-edge centre-front side-front dart-a dart-b side;
    front-edge: waist break-point hem split second-split fold-end fold-top lapel-point;
    lapel: break-point lapel-point centre-back shoulder collar-third; lapel-top: lapel-point notch;
    gorge: notch neck-point gorge-dart-a gorge-dart-b raglan-front;
    shoulder: neck-point princess shoulder-point shoulder-dart-a shoulder-dart-b;
    centre-front: waist gorge break-point hem; roll-line: break-point neck centre-back; bust:;
    hem: princess-front front-corner hang-end centre-front side side-front;
    armhole: shoulder-point princess-front underarm-front front-pitch forearm-top underarm raglan-pitch-front;
    neckline: break-point neck-point centre-front raglan-front; hip:;
    side-front: underarm-front waist under-bust hem hip; dart-back-leg: dart-top waist dart-end;
    dart-front-leg: dart-top waist dart-end; side: underarm waist bust-dart-a bust-dart-b hem vent-top hip;
    bust-dart: bust-dart-a bust-dart-b; overarm: neck-point hem shoulder-point; sleeve-hem: overarm underarm;
    sleeve-underarm: hem underarm; shoulder-dart: shoulder-dart-a shoulder-dart-b; gusset-slit: underarm slit-end;
    collar-centre-back: outer nape; collar-neck: nape neck-point; flap-place: front-end back-end;
    pocket-place: front-end back-end; patch-place: front-end back-end;
    facing-hem: front-corner inner; facing-inner: hem shoulder split top-fold-a top-fold-b;
    facing-shoulder: inner neck-point; facing-gorge: neck-point notch; facing-lapel-top: notch lapel-point;
    gorge-dart: gorge-dart-a gorge-dart-b;
    facing-roll-line: break-point neck; raglan: neck armhole; front-fold: hem fold-end fold-top split break-point;
    corner: hem fold-end; facing-corner: fold-end hem; facing-front-edge: break-point fold-top;
    facing-neckline: neck-point break-point centre-front raglan-front; facing-split: inner front-edge;
    vent-fold: vent-top hem; vent-lap: vent-top hem vent-corner;
    facing-top-fold: top-fold-a top-fold-b; facing-top-fold-cut:;
    * bust-dart-point bust-point dart-end dart-top gorge-dart-point shoulder-dart-point slit-end button-# hook-#
    * twin-button-#
button-cover-1 jacket whole
    level: left right; lower-rim: left right; upper-rim: left right; button:;
back-lower jacket either centre-back
    centre-back: waist hem hip vent-top; hem: centre-back princess-back hang-end side-back side;
    princess-back: hem waist hip; waist: princess-back centre-back side-back side dart-a dart-b;
    side-back: hem waist hip vent-top; side: hem waist hip vent-top; hip:; dart-back-leg: waist dart-end;
    dart-front-leg: waist dart-end;
    vent-fold: vent-top hem; vent-facing: vent-top hem vent-corner; vent-lap: vent-top hem vent-corner;
    * dart-end
side-lower jacket pair
    side-back: waist hem hip vent-top; hem: side-back side-front; side-front: hem waist hip;
    waist: side-front side-back; hip:;
    vent-fold: vent-top hem; vent-lap: vent-top hem vent-corner;
side-back-lower jacket pair
    princess-back: waist hem hip; hem: princess-back side; side: hem waist hip vent-top; waist: side princess-back;
    hip:;
    vent-fold: vent-top hem; vent-facing: vent-top hem vent-corner;
side-front-lower jacket pair
    side: waist hem hip vent-top; hem: side princess-front; princess-front: hem waist hip; waist: princess-front side;
    hip:;
    vent-fold: vent-top hem; vent-lap: vent-top hem vent-corner;
    * twin-button-#
front-lower jacket pair
    princess-front: waist hem hip; hem: princess-front front-corner hang-end centre-front side-front side;
    front-edge: hem waist split; waist: front-edge princess-front centre-front side-front dart-a dart-b side;
    centre-front: hem waist; side-front: waist hem hip; side: waist hem hip vent-top; flap-place: front-end back-end;
    pocket-place: front-end back-end; patch-place: front-end back-end;
    dart-back-leg: waist dart-end; dart-front-leg: waist dart-end; hip:;
    vent-fold: vent-top hem; vent-lap: vent-top hem vent-corner;
    * dart-end button-# hook-# twin-button-#
upper-sleeve jacket pair
    hindarm: hindarm-top hem elbow vent-top; hem: hindarm forearm; forearm: hem forearm-top elbow;
    cap: forearm-top hindarm-top front-pitch shoulder-point back-pitch princess-front princess-back; elbow:;
    vent-fold: vent-top hem; vent-facing: vent-top hem vent-corner;
    * sleeve-button-#
under-sleeve jacket pair
    forearm: forearm-top hem elbow; hem: forearm hindarm; hindarm: hem hindarm-top elbow vent-top;
    scye: hindarm-top forearm-top underarm underarm-back underarm-front; elbow:; vent-fold: vent-top hem;
    vent-lap: vent-top hem vent-corner;
sleeve jacket pair
    back-underarm: underarm hem elbow-a elbow-b ease-top ease-end; hem: back-underarm front-underarm;
    front-underarm: hem underarm elbow-a elbow-b ease-top ease-end;
    front-cap: underarm shoulder-point forearm-top front-pitch princess-front underarm-front;
    back-cap: shoulder-point underarm back-pitch princess-back hindarm-top underarm-back; elbow:; elbow-dart:;
    * elbow-dart-point
front-sleeve jacket pair
    overarm: neck-point hem shoulder-point upper-arm; hem: overarm underarm; underarm: hem underarm ease-end ease-top;
    scye: underarm raglan-pitch-front underarm-front forearm-top front-pitch; raglan: armhole neck;
    neck: raglan-front neck-point; elbow:;
back-sleeve jacket pair
    underarm: underarm hem ease-top ease-end; hem: underarm overarm; overarm: hem neck-point upper-arm shoulder-point;
    neck: neck-point raglan-back; raglan: neck armhole; scye: raglan-pitch-back underarm underarm-back
    hindarm-top back-pitch; elbow:;
gusset jacket pair
    back-sleeve: underarm slit-end; back-body: slit-end underarm; front-body: underarm slit-end;
    front-sleeve: slit-end underarm;
under-collar jacket pair
    centre-back: outer nape; neck: nape notch neck-point gorge-dart-a gorge-dart-b raglan-front raglan-back;
    end: notch collar-point; outer: collar-point centre-back shoulder; roll-line: centre-back neck;
top-collar jacket whole centre-back
    centre-back: nape outer; outer: centre-back collar-point collar-third shoulder; end: collar-point notch;
    neck: notch nape neck-point; roll-line: centre-back neck;
stand-collar jacket either centre-back
    centre-back: outer nape; neck: nape centre-front neck-point raglan-front raglan-back; end: centre-front front-end;
    outer: front-end centre-back;
stand-collar-facing jacket either centre-back
    outer: centre-back front-end; end: front-end centre-front; neck: centre-front nape neck-point;
    centre-back: nape outer;
front-facing jacket pair
    gorge: neck-point notch; lapel-top: notch lapel-point;
    lapel: lapel-point break-point centre-back collar-third shoulder; front-edge: break-point hem waist split;
    hem: front-corner inner; inner: hem shoulder split; shoulder: inner neck-point;
    roll-line: break-point neck centre-back; split: front-edge inner;
    neckline: neck-point break-point centre-front raglan-front; collar-neck: neck-point nape;
    collar-centre-back: nape outer;
front-facing-lower jacket pair
    front-edge: split hem waist second-split; hem: front-corner inner; inner: hem split second-split;
    split: inner front-edge; second-split: front-edge inner;
front-facing-lowest jacket pair
    front-edge: second-split hem; hem: front-corner inner; inner: hem second-split; second-split: inner front-edge;
back-neck-facing jacket whole centre-back
    neck: nape neck-point raglan-back; shoulder: neck-point inner; outer: shoulder centre-back;
    centre-back: outer nape;
flap jacket pair
    top: front-end back-end; back-end: top bottom; bottom: back-end front-end; front-end: bottom top;
welt jacket pair
    mouth: back-end front-end; front-end: front-end front-inner; inner: front-inner back-inner;
    back-end: back-inner back-end; fold: front-end back-end;
jetting-upper jacket pair
    mouth: back-end front-end; front-end: front-end front-inner; inner: front-inner back-inner;
    back-end: back-inner back-end; fold: front-end back-end;
jetting-lower jacket pair
    mouth: back-end front-end; front-end: front-end front-inner; inner: front-inner back-inner;
    back-end: back-inner back-end; fold: front-end back-end;
pocket-mouth-facing jacket pair
    top: front-side back-side; back-side: top lower; lower: back-side front-side; front-side: lower top;
patch-pocket jacket pair
    top: front-end back-end; back-end: top bottom; bottom: back-end front-end; front-end: bottom top;
patch-pocket-lining jacket pair
    top: front-end back-end; back-end: top bottom; bottom: back-end front-end; front-end: bottom top;
flap-lining jacket pair
    top: front-end back-end; back-end: top bottom; bottom: back-end front-end; front-end: bottom top;
skirt-front skirt whole centre-front
    waist: centre-front side dart-#-a dart-#-b pleat-#-fold pleat-#-cover; side: waist hem hip;
    hem: side centre-front; centre-front: hem waist; hip: centre-front side; dart-#:;
    jacket-hem: centre-front hang-end; pleat-#-fold: waist hem; pleat-#-inner: waist hem; pleat-#-cover: waist hem;
    * dart-#-point
skirt-back skirt pair
    centre-back: waist hem zip-end vent-top; hem: centre-back side; side: hem waist hip;
    waist: side centre-back dart-#-a dart-#-b ribbon-end pleat-#-cover pleat-#-fold; hip: centre-back side; dart-#:;
    jacket-hem: centre-back hang-end; pleat-#-cover: waist hem; pleat-#-fold: waist hem; pleat-#-inner: waist hem;
    vent-fold: vent-top hem; vent-lap: vent-top hem vent-corner;
    * dart-#-point vent-top
waistband skirt whole
    lower: right-end left-end; left-end: lower upper; upper: left-end right-end; right-end: upper lower; fold:;
    underlap:; front: centre-front side dart-#-a dart-#-b pleat-#-fold pleat-#-cover;
    back: side centre-back dart-#-a dart-#-b pleat-#-cover pleat-#-fold;
waist-ribbon skirt whole
    lower: right-end left-end; left-end: lower upper; upper: left-end right-end; right-end: upper lower;
    front: centre-front side dart-#-a dart-#-b pleat-#-fold pleat-#-cover;
    back: side ribbon-end dart-#-a dart-#-b pleat-#-cover pleat-#-fold;
top-front skirt whole centre-front
    neck: centre-front neck-point; shoulder: neck-point shoulder-point; armhole: shoulder-point underarm;
    side: underarm waist side-dart-a side-dart-b;
    waist: side centre-front dart-#-a dart-#-b pleat-#-fold pleat-#-cover; centre-front: waist neck; bust:;
    waist-dart:; side-dart:;
    * bust-point side-dart-point waist-dart-point
top-back skirt pair
    centre-back: nape waist; waist: centre-back side dart-#-b dart-#-a pleat-#-cover pleat-#-fold;
    side: waist underarm side-dart-a side-dart-b; armhole: underarm shoulder-point;
    shoulder: shoulder-point neck-point; neck: neck-point nape; waist-dart:;
    * waist-dart-point
trousers-front trousers pair
    side: waist hem hip knee pocket-end; hem: side inseam; inseam: hem fork knee; crotch: fork waist hip fly-end;
    waist: centre-front side dart-#-a dart-#-b pocket-top pleat-#-a pleat-#-b; hip: side centre; thigh: side inseam;
    knee: side inseam; crease: hem top; dart-#:; fly-stitching: fly-end waist; pocket-line: pocket-top pocket-end;
    pleat-#:; pleat-#-hidden:; pleat-#-place:;
    * dart-#-point
trousers-back trousers pair
    seat: waist fork hip; inseam: fork hem knee; hem: inseam side; side: hem waist hip knee pocket-end;
    waist: side centre-back dart-#-b dart-#-a; hip: side centre; thigh: side inseam; knee: side inseam;
    crease: hem top; dart-#:;
    * dart-#-point
trousers-waistband trousers either centre-back
    lower: centre-back front-end; front-end: lower upper; upper: front-end centre-back; centre-back: upper lower;
    fold:; centre-front: lower upper; front: centre-front side dart-#-a dart-#-b pleat-#-a pleat-#-b;
    back: side centre-back dart-#-a dart-#-b;
fly-facing trousers whole
    outer: lower waist; waist: outer fly; fly: waist lower fly-end;
fly-placket trousers whole
    fly: lower waist fly-end; waist: fly inner; inner: waist lower; lower: inner fly; fold: lower waist;
fly-shield trousers whole
    fly: lower waist fly-end; waist: fly inner; inner: waist lower; lower: inner fly; fold: lower waist;
pocket-underlay trousers pair
    side: waist lower pocket-end; lower: side inner; inner: lower waist; waist: inner side pocket-top;
    pocket-line: pocket-top pocket-end;
pocket-facing trousers pair
    waist: pocket-top inner; inner: waist lower; lower: inner pocket-end; mouth: pocket-end pocket-top;
"""


def _read(table: str) -> Iterator[PieceName]:
    for entry in re.split(r"\n(?=\S)", table.strip()):
        first, *rest = entry.splitlines()
        name, garment, cut, *fold = first.split()
        of_marks = [line for line in rest if line.strip().startswith("*")]
        of_edges = [line for line in rest if line not in of_marks]
        marks = " ".join(of_marks).replace("*", "").split()
        edges = " ".join(of_edges).strip().rstrip(";").split(";")
        parts = (edge.partition(":") for edge in edges)
        yield PieceName(
            name,
            garment,
            cut,
            tuple((edge.strip(), tuple(stops.split())) for edge, _, stops in parts),
            tuple(marks),
            fold[0] if fold else None,
        )


PIECES: tuple[PieceName, ...] = tuple(_read(_TABLE))

# Seams and touches; those across have no hand.
_ACROSS = """
    centre-back centre-back-lower under-collar-centre-back facing-centre-back stand-collar-centre-back
    stand-collar-facing-centre-back closing closing-lower skirt-centre-back top-centre-back back-vent skirt-vent
    pleats-behind trousers-crotch trousers-seat trousers-band-centre-back
    buttonhole-upper-# buttonhole-lower-# covered-button-#
"""
_HANDED = """
    side-back side-back-lower side-front side-front-lower side side-2 side-lower
    princess-back princess-back-lower princess-front princess-front-lower
    shoulder shoulder-2 side-shoulder
    waist-back waist-back-# waist-side waist-side-back waist-side-front waist-front waist-front-#
    sleeve-front sleeve-back sleeve-side-front sleeve-side-back under-sleeve-back under-sleeve-side
    under-sleeve-front under-sleeve-side-back under-sleeve-side-front forearm hindarm sleeve-vent side-vent
    sleeve-underarm sleeve-underarm-upper sleeve-underarm-lower overarm raglan-front raglan-back
    gusset-front-sleeve gusset-front-body gusset-back-sleeve gusset-back-body
    gorge gorge-2 gorge-sleeve neck neck-sleeve collar-outer collar-end stand-collar-back stand-collar-front
    stand-collar-back-sleeve stand-collar-front-sleeve
    facing-front-edge facing-front-edge-below facing-front-edge-lower facing-front-edge-lower-below facing-split
    facing-front-edge-lowest facing-second-split facing-corner
    facing-lapel facing-lapel-top facing-gorge facing-neck facing-neck-sleeve facing-neckline
    facing-neckline-sleeve facing-collar-front facing-shoulder
    collar-on-back flap welt patch-pocket jacket-over-skirt-front jacket-over-skirt-back
    jacket-over-trousers-front jacket-over-trousers-back
    skirt-side pleats-at-side top-side-upper top-side-lower top-shoulder
    trousers-side trousers-inseam trousers-waist-front-# trousers-waist-back-# trousers-pocket
    pocket-mouth pocket-side fly-facing fly-placket fly-shield
"""
ACROSS: tuple[str, ...] = tuple(_ACROSS.split())
HANDED: tuple[str, ...] = tuple(_HANDED.split())


OF_MAKE_UP = ("button-cover-#", "buttonhole-lip-#-lower", "buttonhole-lip-#-upper")
"""Pieces that no draft has: they may be marked as cut; of the covers the first may be pinned."""


@cache
def piece_of(instance: str) -> PieceName | None:
    """Returns the piece that an instance may be cut from, or None if there is none."""
    return next((piece for piece in PIECES if instance in piece.instances), None)


def instances(garments: Garments | None = None) -> tuple[str, ...]:
    """Returns the names of everything that may be cut, of some garments or of all."""
    return tuple(
        name
        for piece in PIECES
        if garments is None or piece.garment in garments.names
        for name in (piece.instances if garments is None else garments.instances_of(piece))
    )


def stops_of(piece: PieceName, edge: str) -> tuple[str, ...] | None:
    """Returns the stops of an edge or line, or None if the piece has none of that name."""
    edges = dict(piece.edges)
    if piece.fold is not None and edge not in edges:
        edge = edge.removesuffix(".right").removesuffix(".left")
    return edges.get(edge) if edge in edges else edges.get(_any_number(edge))


def is_among(name: str, known: Iterable[str]) -> bool:
    """Returns whether a name is one of those known, among which a # stands for any number.

    >>> is_among("pleat-3-fold", ("side", "pleat-#-fold"))
    True
    """
    names = tuple(known)
    return name in names or _any_number(name) in names


def _any_number(name: str) -> str:
    return re.sub(r"(?<=-)\d+(?=-|$)", "#", name)


def joins() -> Iterator[str]:
    """Yields every name that importance may be said of."""
    yield from ACROSS
    for name in HANDED:
        yield from (name, f"{name}.right", f"{name}.left")
