"""The collar on the figure: its fall over back and shoulders, its ends beside the lapels, its stand inside the neck."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from settwright.makeup.model import CutPiece
from settwright.workbook.drawing.figure.body import shoulder_of
from settwright.workbook.drawing.figure.form import Floats, Half, Patch, View, by, fitted, mirrored, places_of
from settwright.workbook.drawing.figure.neck import (
    Front,
    Ruled,
    curve,
    facing_on_front,
    spaced,
)
from settwright.workbook.drawing.plaid import Map, Places, affine

_COUNT = 60  # rulings of a strip
_SIDE_RISE = 0.5  # of the stand: how high the fold stands over the neck point, where it leans away
_SIDE_STANDS = 0.75  # likewise seen from the side
_LEANS = 0.2  # of the stand: how far forward the fold lies of the nape
_ROUNDS_OUT = 4.0  # the fold's roundness at the side
_LIES_ON = 4.0  # the fall stands off the shoulder by this


@dataclass(frozen=True)
class Collar:
    """One half of the top collar; places are the right half's, outwards to the right on the figure."""

    front: Front
    piece: CutPiece

    @property
    def _half(self) -> Half:
        return self.front.body.half

    @cached_property
    def _roll(self) -> Places:
        """The fold on the piece, from the centre back to the gorge."""
        return self._half.edge(self.piece, "roll-line")

    @cached_property
    def _neck(self) -> Places:
        """The neck edge on the piece, from the nape to the notch."""
        return self._half.edge(self.piece, "neck")[:: self._from_centre("neck")]

    @cached_property
    def _outer(self) -> Places:
        """The outer edge on the piece, from the centre back to the collar's point."""
        return self._half.edge(self.piece, "outer")[:: self._from_centre("outer")]

    def _from_centre(self, edge: str) -> int:
        """Returns 1 where an edge runs away from the centre back, −1 where it runs towards it."""
        line = self._half.edge(self.piece, edge)
        return 1 if abs(line[0, 0]) < abs(line[-1, 0]) else -1

    def _length_to(self, edge: str, line: Places, stop: str) -> float:
        """Returns how far from the centre back a stop lies on an edge."""
        names = {e.name for e in self.piece.piece.edges}
        own = f"{edge}.{self._half.hand.value}"
        name = own if own in names else edge
        at = self.piece.piece.stop(name, stop)
        place = self._half.turned(places_of([self.piece.piece.edge(name).path.at(at)]))
        return walked_to(line, place)

    @cached_property
    def _over_neck(self) -> tuple[float, float, float]:
        """How far from the centre back the neck point lies on the neck, the fold above it, the shoulder below it."""
        neck = self._length_to("neck", self._neck, "neck-point")
        outer = self._length_to("outer", self._outer, "shoulder")
        ruling = np.concatenate((at_length(self._neck, neck), at_length(self._outer, outer)))
        met = shapely.intersection(shapely.linestrings(self._roll), shapely.linestrings(ruling))
        fold = neck if shapely.is_empty(met) else walked_to(self._roll, shapely.get_coordinates(met)[:1])
        return neck, fold, outer

    @cached_property
    def stand(self) -> float:
        """The stand at the centre back."""
        return float(np.sqrt(np.square(self._roll[0] - self._neck[0]).sum()))

    @cached_property
    def _back_neck(self) -> Places:
        """The back's neck seam in its frame, from the nape to the neck point: what a raglan sleeve has of it too."""
        panel = self.front.body.panels[-1]
        neck = self._half.edge(panel.piece, "neck")
        sleeve, pairs = self._half.find("back-sleeve"), self._half.pairs("raglan-back")
        if sleeve is not None and pairs is not None:
            on_back, on_sleeve = pairs
            neck = np.concatenate(
                (neck, affine(fitted(on_sleeve, on_back, mirror=False))(self._half.edge(sleeve, "neck")))
            )
        return neck[np.argsort(panel.from_left(neck), kind="stable")]

    @cached_property
    def _back_neck_seen(self) -> Places:
        """The back's neck seam as seen from behind, from the nape to the neck point."""
        body = self.front.body
        seen = body.place(len(body.panels) - 1, self._back_neck, View.BACK)
        return seen if seen[0, 0] < seen[-1, 0] else seen[::-1]

    @cached_property
    def _neck_point_seen(self) -> Places:
        """The neck point as seen from the front."""
        return self.front.place(shoulder_of(self.front.body)[:1])

    def _fold_top(self, neck_point: Places) -> Places:
        """Returns where the fold stands over the neck point."""
        return neck_point + by(-4.0, self.stand * _SIDE_RISE)

    def _fold_behind(self, neck_point: Places, nape: Places) -> Places:
        """Returns the fold behind the neck, from the centre back to over the neck point."""
        centre = nape + by(0.0, self.stand * 0.97)
        side = self._fold_top(neck_point)
        width = float(side[0, 0])
        return curve(centre, centre + by(width * 0.5, 0.0), side + by(-width * 0.22, -1.0), side, _COUNT)

    def back_patch(self) -> Patch:
        """Returns the fall as seen from behind."""
        _, fold, outer = self._over_neck
        seen_neck = self._back_neck_seen
        body = self.front.body
        back = body.panels[-1].piece
        lies = self._half.edge(back, "collar-edge")
        seen = body.place(len(body.panels) - 1, lies, View.BACK)
        seen = seen if seen[0, 0] < seen[-1, 0] else seen[::-1]
        strip = Ruled(
            spaced(until(self._roll, fold), _COUNT),
            spaced(until(self._outer, outer), _COUNT),
            self._fold_behind(seen_neck[-1:], seen_neck[:1]),
            spaced(seen, _COUNT),
            _bulge(_COUNT)[::-1],
        )
        return self._patch(strip, View.BACK)

    def stand_patch(self) -> tuple[Patch, Places]:
        """Returns the stand as seen from the front inside the neck, and the neck seam below it (nape to side)."""
        neck, fold, _ = self._over_neck
        behind, before = self._back_neck_seen, self._neck_point_seen
        seam = behind * by(before[0, 0] / behind[-1, 0], 1.0) + by(0.0, before[0, 1] - behind[-1, 1])
        strip = Ruled(
            spaced(until(self._neck, neck), _COUNT),
            spaced(until(self._roll, fold), _COUNT),
            spaced(seam, _COUNT),
            self._fold_behind(seam[-1:], seam[:1]),
        )
        outward = np.array([-self._half.sign, 1.0])
        return self._patch(strip, View.FRONT), seam * outward

    def front_patch(self) -> Patch | None:
        """Returns the fall as seen from the front, from the shoulder to the collar's end."""
        _, fold, outer = self._over_neck
        laid = self._laid()
        roll = self.front.roll
        if laid is None or roll is None:
            return None
        place = self.front.place
        crossing = self._roll[-1:]
        meets = walked_to(self._neck, crossing)
        gorge = beyond(self._neck, meets)
        inner = np.concatenate((spaced(beyond(self._roll, fold), _COUNT // 2), spaced(gorge, _COUNT // 2)[1:]))
        edge = beyond(self._outer, outer)
        top = self._fold_top(self._neck_point_seen)
        gorge_seen = place(laid(spaced(gorge, _COUNT // 2)))
        start = place(np.array([[roll.end.x, roll.end.y]]))
        gorge_seen = gorge_seen + (start - gorge_seen[:1]) * np.linspace(1.0, 0.0, len(gorge_seen))[:, None]
        along = start - place(np.array([[roll.start.x, roll.start.y]]))
        along = along / np.sqrt(np.square(along).sum())
        reach = float(np.sqrt(np.square(top - start).sum()))
        rising = curve(top, top - by(0.0, reach * 0.3), start + along * reach * 0.42, start, _COUNT // 2)
        shoulder = self._shoulder_seen()
        point, before = place(laid(edge[-1:])), place(laid(edge[-6:-5]))
        arriving = (point - before) / max(float(np.sqrt(np.square(point - before).sum())), 1e-6)
        span = float(np.sqrt(np.square(point - shoulder).sum()))
        edge_seen = curve(
            shoulder, shoulder + by(0.06 * span, -0.36 * span), point - arriving * span * 0.34, point, len(inner)
        )
        strip = Ruled(
            inner, spaced(edge, len(inner)), np.concatenate((rising, gorge_seen[1:])), edge_seen, _bulge(len(inner))
        )
        return self._patch(strip, View.FRONT)

    def side_patch(self) -> Patch | None:
        """Returns the fall as seen from the side, from the centre back to where it goes round out of sight."""
        _, fold, outer = self._over_neck
        laid, roll, body = self._laid(), self.front.roll, self.front.body
        if laid is None or roll is None:
            return None
        back, last = body.panels[-1].piece, len(body.panels) - 1
        nape = body.place(last, self._back_neck[:1], self.front.view)
        gorge = beyond(self._neck, walked_to(self._neck, self._roll[-1:]))
        inner = (until(self._roll, fold), beyond(self._roll, fold), gorge)
        behind = nape + by(_LEANS * self.stand, 0.97 * self.stand)
        over = self._neck_point_seen + by(0.0, _SIDE_STANDS * self.stand)
        start = self.front.place(np.array([[roll.end.x, roll.end.y]]))
        gorge_seen = self.front.place(laid(spaced(gorge, _COUNT // 2)))
        gorge_seen = gorge_seen + (start - gorge_seen[:1]) * np.linspace(1.0, 0.0, len(gorge_seen))[:, None]
        along = start - self.front.place(np.array([[roll.start.x, roll.start.y]]))
        along = along / np.sqrt(np.square(along).sum())
        reach = float(np.sqrt(np.square(over - start).sum()))
        rise = (over - behind) * 0.3
        inner_seen = (
            curve(behind, behind + rise, over - rise, over, _COUNT),
            curve(over, over + by(reach * 0.3, -reach * 0.1), start + along * reach * 0.3, start, _COUNT // 2)[1:],
            gorge_seen[1:],
        )
        edge = body.place(last, self._half.edge(back, "collar-edge"), self.front.view)
        edge = edge if edge[0, 0] < edge[-1, 0] else edge[::-1]
        front_edge = beyond(self._outer, outer)
        shoulder, point = self._edge_on_shoulder(), laid(front_edge[-1:])
        fall = float(np.sqrt(np.square(point - shoulder).sum()))
        arriving = point - laid(front_edge[-6:-5])
        arriving = arriving / max(float(np.sqrt(np.square(arriving).sum())), 1e-6)
        sweep = self.front.place(
            curve(shoulder, shoulder + by(0.0, -0.36 * fall), point - arriving * fall * 0.34, point, _COUNT)
        )
        drawn = edge + (sweep[:1] - edge[-1:]) * np.square(np.linspace(0.0, 1.0, len(edge)))[:, None]
        forwards = len(inner_seen[1]) + len(inner_seen[2])
        strip = Ruled(
            np.concatenate(
                (spaced(inner[0], _COUNT), spaced(inner[1], _COUNT // 2)[1:], spaced(inner[2], _COUNT // 2)[1:])
            ),
            np.concatenate((spaced(until(self._outer, outer), _COUNT), spaced(front_edge, forwards + 1)[1:])),
            np.concatenate(inner_seen),
            np.concatenate((spaced(drawn, _COUNT), spaced(sweep, forwards + 1)[1:])),
        )
        return self._patch(strip.until_it_turns(), self.front.view)

    def _shoulder_seen(self) -> Places:
        """Returns where the outer edge crosses the shoulder, seen from the front."""
        return self.front.place(self._edge_on_shoulder()) + by(0.0, _LIES_ON)

    def _edge_on_shoulder(self) -> Places:
        """Returns where the outer edge crosses the shoulder, in the front's frame."""
        shoulder = shoulder_of(self.front.body)
        back = self.front.body.panels[-1].piece
        lies = self._half.edge(back, "collar-edge")
        neck = self._back_neck
        away = min(
            float(np.sqrt(np.square(end - neck_end).sum()))
            for end in (lies[0], lies[-1])
            for neck_end in (neck[0], neck[-1])
        )
        return at_length(shoulder, away)

    def _laid(self) -> Map | None:
        """Returns the map that lays the collar's end flat beside the lapel, in the front's frame."""
        roll = self.front.roll
        pairs = self._half.pairs("facing-gorge")
        if roll is None or pairs is None:
            return None
        on_gorge, on_collar = pairs
        faced = facing_on_front(self._half, self.front.body.panels[0].piece)
        if faced is not None:
            on_gorge = faced.onto(on_gorge)
        near = np.sqrt(np.square(on_collar - on_collar[:1]).sum(axis=1)) < 45.0
        turned = affine(roll.turned())(on_gorge[near])
        return affine(fitted(on_collar[near], turned, mirror=False))

    def _patch(self, strip: Ruled, view: View) -> Patch:
        region = strip.region()
        return Patch(self.piece.name, mirrored(region, self._half.sign), self._half.seen(view, strip.place))


def _bulge(count: int) -> Floats:
    """Returns how far the fall rounds out over the shoulder, ruling by ruling from the side on."""
    return _ROUNDS_OUT * np.square(np.maximum(1.0 - np.arange(count) / (count * 0.4), 0.0))


def _walked(line: Places) -> Floats:
    steps = np.sqrt(np.square(np.diff(line, axis=0)).sum(axis=1))
    return np.concatenate((np.zeros(1), np.cumsum(steps)))


def walked_to(line: Places, place: Places) -> float:
    """Returns how far along a line the place nearest to a given one lies."""
    return float(shapely.line_locate_point(shapely.linestrings(line), shapely.points(place[0])))


def at_length(line: Places, length: float) -> Places:
    """Returns the place at a length along a line, as one row."""
    walked = _walked(line)
    return np.array([[np.interp(length, walked, line[:, 0]), np.interp(length, walked, line[:, 1])]])


def until(line: Places, length: float) -> Places:
    """Returns a line up to a length."""
    return np.concatenate((line[_walked(line) < length - 1e-6], at_length(line, length)))


def beyond(line: Places, length: float) -> Places:
    """Returns a line from a length on."""
    return np.concatenate((at_length(line, length), line[_walked(line) > length + 1e-6]))


def collar_of(front: Front) -> Collar | None:
    """Returns a half of the top collar, or None where there is none."""
    piece = front.body.half.find("top-collar")
    return Collar(front, piece) if piece is not None else None


__all__ = ["Collar", "collar_of"]
