"""The body of the jacket by its cut: its pieces with their edges, stops and darts, and the seams between them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from settwright.commission.design import BodyCut, CentreBack, JacketDesign, SleeveCut, Vent
from settwright.geometry import Path, Point
from settwright.pattern.drafts.bodice import WHOLE_HIP, Bodice
from settwright.pattern.drafts.darts import Opened, opened, shifted, waist_dart
from settwright.pattern.drafts.frame import SEAMS, Frame, Fullness
from settwright.pattern.drafts.parts import Front, Joining, Parts, joining, parted, stops_at
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.piece import Cut, Edge, Line, LineKind, Mark, Meeting, Notch, Piece, Side, Touch

HANG_END = 60.0
"""How far from the centre the jacket's hem is held against the skirt's bars."""

SIDE_DART_DROP = 58.0  # of a side dart's mouth below the armhole's foot
BELOW_GROWN_SLEEVE = 125.0  # likewise where a kimono sleeve comes down the side and rounds into it
_SHORT = {Fullness.SIDE: 25.0, Fullness.SHOULDER: 25.0}  # of the bust point, where a dart ends
_GORGE_SHORT = 0.5  # of the way from the bust point to the gorge: no lower, so that the lapel hides the dart
_BACK_SHORT = 0.35  # of the way from the blade to the shoulder

_TITLES = {
    "back": "Back",
    "side": "Side panel",
    "side-back": "Side back",
    "side-front": "Side front",
    "front": "Front",
}
PIECES: dict[BodyCut, tuple[str, ...]] = {
    BodyCut.DARTED: ("back", "front"),
    BodyCut.SIDE_PANEL: ("back", "side", "front"),
    BodyCut.PRINCESS_SHOULDER: ("back", "side-back", "side-front", "front"),
    BodyCut.PRINCESS_ARMHOLE: ("back", "side-back", "side-front", "front"),
}
"""The body's pieces of each cut, from the back to the front."""
VENTED: dict[BodyCut, str] = {
    BodyCut.DARTED: "side",
    BodyCut.SIDE_PANEL: "side-back",
    BodyCut.PRINCESS_SHOULDER: "side",
    BodyCut.PRINCESS_ARMHOLE: "side",
}
"""The seam that side vents leave open."""

_FROM_THE_BACK = ("side-back", "princess-back")  # seams told from the piece towards the back; others from the front


def draw_body(
    r: Recorder, frame: Frame, bodice: Bodice, front: Front, design: JacketDesign, *, dart_end: float
) -> Parts:
    """Returns the body's pieces with the seams between them; `dart_end` is the level where the front's dart ends."""
    return _Body(r, frame, bodice, front, design, dart_end).parts()


@dataclass(frozen=True)
class _Top:
    """What bounds a piece above its seams, from its right seam to its left one, with stops, darts and points."""

    edges: tuple[Edge, ...] = ()
    notches: tuple[Notch, ...] = ()
    lines: tuple[Line, ...] = ()
    marks: tuple[Mark, ...] = ()


@dataclass(frozen=True)
class _Body:
    r: Recorder
    frame: Frame
    bodice: Bodice
    front: Front
    design: JacketDesign
    dart_end: float

    @property
    def _cut(self) -> BodyCut:
        return self.design.body_cut

    def parts(self) -> Parts:
        middle = PIECES[self._cut][1:-1]
        pieces = (self._back(), *(self._middle(name, i) for i, name in enumerate(middle, 1)), self._front_piece())
        return Parts(pieces=pieces, joinings=self._joinings(), touches=self._touches())

    # ------------------------------------------------------------------------------------------------- pieces

    def _back(self) -> Piece:
        frame, bodice = self.frame, self.bodice
        name, seam = bodice.seams[0]
        side = seam.left.reversed()
        waist = side.at(side.where_y(0.0)[0])
        dart = waist_dart(
            self.r,
            "back",
            (frame.hollow + waist.x) / 2,
            width=frame.back_dart,
            top=frame.bust - 5.0,
            end=max(0.7 * frame.hip, frame.hem + 40.0),
        )
        top = self._back_top()
        fold = self.design.centre_back is CentreBack.FOLD
        return Piece(
            name="back",
            title="Back",
            cut=Cut.WHOLE if fold else Cut.PAIR,
            edges=(
                Edge("centre-back", bodice.centre_back, "nape", "hem"),
                Edge("hem", bodice.hems[0], "centre-back", name),
                Edge(name, side, "hem", self._top_stop(name)),
                *top.edges,
                Edge("neck", bodice.back_neck, "neck-point", "nape"),
            ),
            notches=(
                *self._crossed("centre-back", bodice.centre_back, self._levels_of("centre-back")),
                Notch("hang-end", "hem", HANG_END),
                *self._crossed(name, side, self._levels_of(name)),
                *self._beside_dart(name, side),
                *top.notches,
            ),
            lines=(*_level_lines(frame, bodice.centre_back, side), *(dart.lines() if dart else ()), *top.lines),
            marks=(*(dart.marks() if dart else ()), *top.marks),
            grain_mark=Point(0.0 if fold else waist.x / 2, 0.0),
        )

    def _middle(self, piece: str, index: int) -> Piece:
        frame, bodice = self.frame, self.bodice
        (left_name, left_seam), (right_name, right_seam) = bodice.seams[index - 1], bodice.seams[index]
        left, right = left_seam.right, right_seam.left.reversed()
        top = self._middle_top(piece)
        middle = left.at(left.where_y(0.0)[0]).between(right.at(right.where_y(0.0)[0]))
        return Piece(
            name=piece,
            title=_TITLES[piece],
            cut=Cut.PAIR,
            edges=(
                Edge(left_name, left, self._top_stop(left_name), "hem"),
                Edge("hem", bodice.hems[index], left_name, right_name),
                Edge(right_name, right, "hem", self._top_stop(right_name)),
                *top.edges,
            ),
            notches=(
                *self._crossed(left_name, left, self._levels_of(left_name)),
                *self._crossed(right_name, right, self._levels_of(right_name)),
                *top.notches,
            ),
            lines=(*_level_lines(frame, left, right), *top.lines),
            marks=(*top.marks, *(self._marks_beside_the_front(right) if index == len(bodice.seams) - 1 else ())),
            grain_mark=middle,
        )

    def _beyond_the_front(self, mark: Mark) -> float:
        """Returns how far a mark that was set out from the centre front lies beyond the front's seam."""
        edge = self.bodice.seams[-1][1].right
        return max((edge.at(at).x - mark.at.x for at in edge.where_y(mark.at.y)), default=0.0)

    def _marks_beside_the_front(self, edge: Path) -> Iterator[Mark]:
        """Yields what was set out from the centre front and lies on the next piece, as far from the seam there."""
        for mark in self.front.marks:
            beyond, on_edge = self._beyond_the_front(mark), edge.where_y(mark.at.y)
            if beyond > 0 and on_edge:
                yield Mark(mark.name, Point(edge.at(on_edge[0]).x - beyond, mark.at.y))

    def _front_piece(self) -> Piece:
        frame, bodice, front = self.frame, self.bodice, self.front
        name, seam = bodice.seams[-1]
        dart = waist_dart(
            self.r,
            "front",
            frame.bust_point.x + frame.front_dart_moved,
            width=frame.front_dart,
            top=frame.bust_point.y - 30.0,
            end=self.dart_end,
        )
        hem, x = bodice.hems[-1], frame.centre_front
        edge = front.edges[0].path
        wraps = front.corner.x > x + 1e-9
        on_centre = hem.where_x(x)[0] if wraps else hem.length
        foot = Point(x, frame.hem) if wraps or edge.length == 0 else edge.at(edge.where_x(x)[0])
        crossed = (
            () if front.break_level is None else (Notch("break-point", "centre-front", front.break_level - foot.y),)
        )
        centre = Path.line(foot, front.centre_top)
        top = self._front_top()
        side, side_notches, side_lines, side_marks = self._front_side(name, seam.right)
        return Piece(
            name="front",
            title="Front",
            cut=Cut.PAIR,
            edges=(side, Edge("hem", hem, name, "front-corner"), *top.edges),
            notches=(
                *side_notches,
                Notch("hang-end", "hem", on_centre - HANG_END),
                Notch("centre-front", "hem", on_centre),
                *top.notches,
                Notch("waist", "centre-front", -foot.y),
                *crossed,
            ),
            marks=(
                *(Mark(f"button-{number}", at) for number, at in enumerate(front.buttons, 1)),
                Mark("bust-point", frame.bust_point),
                *(dart.marks() if dart else ()),
                *(mark for mark in front.marks if self._beyond_the_front(mark) <= 0),
                *side_marks,
                *top.marks,
            ),
            lines=(
                Line("centre-front", LineKind.CENTRE, centre, "hem", "gorge"),
                *front.lines,
                *_level_lines(frame, seam.right, centre),
                *(dart.lines() if dart else ()),
                *side_lines,
                *top.lines,
            ),
            grain_mark=Point(x, 0.0),
        )

    # ------------------------------------------------------------------------------------------------- tops

    def _armhole(self, piece: str) -> _Top:
        """Returns a piece's armhole, running as the piece's edges do: from the back's side to the front's."""
        armhole = self.bodice.armhole
        part = next(part for part in armhole.parts if part.piece == piece)
        path = self.bodice.armhole_of(piece)
        start, end = armhole.stop(part.first), armhole.stop(part.last)
        last = "shoulder-point" if part.last == "shoulder-point-back" else part.last
        return _Top(
            edges=(Edge("armhole", path, part.first, last),),
            notches=tuple(Notch(name, "armhole", at - start) for name, at in armhole.stops if start < at < end),
        )

    def _back_top(self) -> _Top:
        frame, inner = self.frame, self._back_shoulder_part
        neck, tip = frame.back_neck_point, frame.back_shoulder_point
        if self._cut is BodyCut.PRINCESS_SHOULDER:
            return _Top(edges=(Edge("shoulder", Path.line(inner, neck), "princess", "neck-point"),))
        armhole = self._armhole("back")
        whole = Edge("shoulder", Path.line(tip, neck), "shoulder-point", "neck-point")
        at = whole.path.length - self.bodice.shoulder_part
        if self._blade_dart:
            short = _BACK_SHORT * (inner - frame.blade_pivot).length
            dart = opened(whole, at, frame.blade_opening, frame.blade_pivot, short=short, name="shoulder-dart",
                          first=True, legs="ba")  # fmt: skip
            return _Top((*armhole.edges, dart.edge), (*armhole.notches, *dart.notches), (dart.legs,), (dart.point,))
        notches = armhole.notches
        if self._shoulder_parts:
            notches = (*notches, *(Notch(f"shoulder-dart-{leg}", "shoulder", at) for leg in "ab"))
        return _Top((*armhole.edges, whole), notches)

    def _middle_top(self, piece: str) -> _Top:
        armhole = self._armhole(piece)
        frame = self.frame
        if self._cut is not BodyCut.PRINCESS_SHOULDER:
            return armhole
        if piece == "side-back":
            outer = Edge(
                "shoulder",
                Path.line(frame.back_shoulder_point, self._back_shoulder_part).moved(frame.blade_opening),
                "shoulder-point",
                "princess",
            )
            return _Top((*armhole.edges, outer), armhole.notches)
        inner = Edge(
            "shoulder",
            Path.line(self._front_shoulder_part, frame.front_shoulder_point).moved(frame.opening),
            "princess",
            "shoulder-point",
        )
        return _Top((inner, *armhole.edges), armhole.notches)

    def _front_top(self) -> _Top:
        """Returns the front's line from the hem, its shoulder and its armhole."""
        frame, front = self.frame, self.front
        neck, tip = frame.front_neck_point, frame.front_shoulder_point
        turn = frame.opening
        if self._cut is BodyCut.PRINCESS_SHOULDER:
            inner = Edge("shoulder", Path.line(neck, self._front_shoulder_part), "neck-point", "princess")
            return _Top((*front.edges, inner), front.notches)
        armhole = self._armhole("front")
        shoulder = Edge("shoulder", Path.line(neck, tip), "neck-point", "shoulder-point")
        beside: tuple[Notch, ...] = ()
        if self._shoulder_parts and not self._shoulder_dart:
            beside = tuple(Notch(f"shoulder-dart-{leg}", "shoulder", self.bodice.shoulder_part) for leg in "ab")
        if frame.fullness is Fullness.GORGE and frame.dart_angle > 0:
            gorge, at = front.neck, self._gorge_mouth
            short = _GORGE_SHORT * (gorge.path.at(at) - frame.pivot).length
            dart = opened(gorge, at, turn, frame.pivot, short=short, name="gorge-dart", first=False)
            on_gorge = tuple(n for n in front.notches if n.edge == gorge.name)
            others = tuple(n for n in front.notches if n.edge != gorge.name)
            moved = Edge("shoulder", shoulder.path.moved(turn), "neck-point", "shoulder-point")
            return _Top(
                (*front.edges[:-1], dart.edge, moved, *armhole.edges),
                (*others, *shifted(on_gorge, dart, at), *dart.notches, *beside, *armhole.notches),
                (dart.legs,),
                (dart.point,),
            )
        if self._shoulder_dart:
            dart = self._opened_shoulder(shoulder)
            return _Top(
                (*front.edges, dart.edge, *armhole.edges),
                (*front.notches, *dart.notches, *armhole.notches),
                (dart.legs,),
                (dart.point,),
            )
        return _Top((*front.edges, shoulder, *armhole.edges), (*front.notches, *beside, *armhole.notches))

    def _opened_shoulder(self, shoulder: Edge) -> Opened:
        frame = self.frame
        return opened(
            shoulder,
            self.bodice.shoulder_part,
            frame.opening,
            frame.pivot,
            short=_SHORT[Fullness.SHOULDER],
            name="shoulder-dart",
            first=False,
        )

    def _front_side(self, name: str, path: Path) -> tuple[Edge, tuple[Notch, ...], tuple[Line, ...], tuple[Mark, ...]]:
        """Returns the front's seam towards the back, with the side's dart in it where the cut has one."""
        edge = Edge(name, path, self._top_stop(name), "hem")
        notches = tuple(self._crossed(name, path, self._levels_of(name)))
        if not self._side_dart:
            return edge, notches, (), ()
        at = path.where_y(self._side_dart_level)[0]
        dart = opened(
            edge,
            at,
            self.frame.opening.inverse(),
            self.frame.pivot,
            short=_SHORT[Fullness.SIDE],
            name="bust-dart",
            first=True,
        )
        return dart.edge, (*shifted(notches, dart, at), *dart.notches), (dart.legs,), (dart.point,)

    def _beside_dart(self, name: str, side: Path) -> tuple[Notch, ...]:
        """Returns the two stops, at one place of the back's side, between which the front's dart lies."""
        if not self._side_dart:
            return ()
        at = side.where_y(self._side_dart_level)[0]
        return tuple(Notch(f"bust-dart-{leg}", name, at) for leg in "ab")

    # ------------------------------------------------------------------------------------------------- places

    @property
    def _shoulder_dart(self) -> bool:
        """Whether the bust's dart opens in the front's shoulder, which isn't a seam's end."""
        return self._cut is BodyCut.DARTED and self.frame.fullness is Fullness.SHOULDER and self.frame.dart_angle > 0

    @property
    def _blade_dart(self) -> bool:
        """Whether the back's shoulder has a dart."""
        return self.frame.blade_angle > 0 and self._cut is not BodyCut.PRINCESS_SHOULDER

    @property
    def _shoulder_parts(self) -> bool:
        """Whether a dart of front or back parts the shoulder seam."""
        return self._shoulder_dart or self._blade_dart

    @property
    def _side_dart(self) -> bool:
        return self.frame.fullness is Fullness.SIDE and self.frame.dart_angle > 0

    @property
    def _side_dart_level(self) -> float:
        drop = BELOW_GROWN_SLEEVE if self.design.sleeve_cut is SleeveCut.KIMONO else SIDE_DART_DROP
        return max(self.frame.scye - drop, self.bodice.under_bust)

    @property
    def _front_shoulder_part(self) -> Point:
        return self.frame.front_neck_point.towards(self.frame.front_shoulder_point, self.bodice.shoulder_part)

    @property
    def _back_shoulder_part(self) -> Point:
        return self.frame.back_neck_point.towards(self.frame.back_shoulder_point, self.bodice.shoulder_part)

    @property
    def _gorge_mouth(self) -> float:
        """Where the neck's dart opens on the gorge."""
        return self.front.neck.path.length * 0.5 if self.front.dart_mouth is None else self.front.dart_mouth

    @property
    def _levels(self) -> list[tuple[str, float]]:
        frame = self.frame
        return [("waist", 0.0), *([("hip", frame.hip)] if frame.hem < frame.hip - WHOLE_HIP else [])]

    @property
    def _vent_level(self) -> float:
        return self.frame.hem + self.design.vent_length

    def _levels_of(self, seam: str) -> list[tuple[str, float]]:
        """Returns the levels that are stops of a seam that runs down the body."""
        frame, bodice = self.frame, self.bodice
        over = {
            "centre-back": [("blade", frame.blade)],
            "side-front": [("under-bust", bodice.under_bust)],
            "princess-front": [("bust", frame.pivot.y)],
        }
        vent = [("vent-top", self._vent_level)] if self._is_vented(seam) else []
        return [*vent, *self._levels, *over.get(seam, [])]

    def _is_vented(self, seam: str) -> bool:
        match self.design.vent:
            case Vent.NONE:
                return False
            case Vent.BACK:
                return seam == "centre-back"
            case Vent.SIDES:
                return seam == VENTED[self._cut]

    def _crossed(self, edge: str, path: Path, levels: Iterable[tuple[str, float]]) -> list[Notch]:
        return stops_at(edge, path, levels, WHOLE_HIP / 2)

    def _top_stop(self, seam: str) -> str:
        """Returns the name of the stop at a seam's upper end."""
        if seam in ("side-back", "side-front"):
            return seam.replace("side", "underarm")
        if seam == "side":
            return "underarm"
        return "shoulder" if self._cut is BodyCut.PRINCESS_SHOULDER else "armhole"

    # ------------------------------------------------------------------------------------------------- seams

    def _joinings(self) -> tuple[Joining, ...]:
        names, seams = PIECES[self._cut], SEAMS[self._cut]
        across = ("back", "centre-back")
        found: list[Joining] = []
        if self.design.centre_back is CentreBack.SEAM:
            found.append(joining("centre-back", across, across, "nape", *reversed(self._sewn("centre-back")),
                                 across=True))  # fmt: skip
        for seam, behind, before in zip(seams, names, names[1:], strict=False):
            a, b = (behind, before) if seam in _FROM_THE_BACK else (before, behind)
            stops = (*self._sewn(seam), self._top_stop(seam))
            whole = joining(seam, (a, seam), (b, seam), *stops)
            found += parted(whole, "bust-dart", stops[-1]) if self._side_dart else [whole]
        shoulder = joining("shoulder", ("front", "shoulder"), ("back", "shoulder"), "shoulder-point", "neck-point")
        if self._cut is BodyCut.PRINCESS_SHOULDER:
            found.append(joining("shoulder", ("front", "shoulder"), ("back", "shoulder"), "princess", "neck-point"))
            found.append(joining("side-shoulder", ("side-front", "shoulder"), ("side-back", "shoulder"),
                                 "shoulder-point", "princess"))  # fmt: skip
        else:
            found += parted(shoulder, "shoulder-dart", "neck-point") if self._shoulder_parts else [shoulder]
        return tuple(found)

    def _sewn(self, seam: str) -> list[str]:
        """Returns the stops from the hem up, or from a vent's top."""
        levels = sorted([("hem", self.frame.hem), *self._levels_of(seam)], key=lambda level: level[1])
        lowest = self._vent_level if self._is_vented(seam) else self.frame.hem
        return [name for name, y in levels if y >= lowest]

    def _touches(self) -> tuple[Touch, ...]:
        stops = ("hem", "waist", *(() if self.front.break_level is None else ("break-point",)))
        side = Side("front", "centre-front")
        return (Touch("closing", Meeting.LAP, side, side, stops, across=True),)


def _level_lines(frame: Frame, left: Path, right: Path) -> tuple[Line, ...]:
    """Returns the body's levels drawn across a piece from one edge to the other."""
    hip = [("hip", frame.hip)] if frame.hem < frame.hip - WHOLE_HIP else []
    lines: list[Line] = []
    for name, y in (("bust", frame.bust), ("waist", 0.0), *hip):
        a, b = left.where_y(y), right.where_y(y)
        if a and b:
            lines.append(Line(name, LineKind.LEVEL, Path.line(left.at(a[0]), right.at(b[0]))))
    return tuple(lines)
