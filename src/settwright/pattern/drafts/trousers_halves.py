"""Front and back of the trousers, each drawn with its fork to the right; the back is turned over last.

The front is drawn first. The back is made to agree with it: its side seam as long from waist to hip, to knee, to hem,
its inseam shorter above the knee by what the iron will stretch. The fork's width is found, within the trade's limits,
so that front and back together measure the thigh and its ease.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from settwright.geometry import Path, Point
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.trousers_leg import (
    RIGHT,
    InsideLine,
    Leg,
    SideLine,
    fork_curve,
    hem_line,
    inside_line,
    parameter_where,
    side_line,
)
from settwright.pattern.drafts.trousers_waist import UPRIGHT, DartPlan, PleatPlan, WaistLine, true_waist

BACK_DART_PLACES = {1: (0.5,), 2: (0.36, 0.68)}
TWO_DARTS = 18.0  # a smaller intake isn't shared between two
PLEAT_SHARES = {1: (1.0,), 2: (0.6, 0.4)}
BETWEEN_PLEATS = 30.0  # from the first pleat's line to the second one's fold
FRONT_GIVE = (-5.0, 5.0)  # how far the waist at the centre may be lowered or raised for an even bow
BACK_GIVE = (-8.0, 12.0)
FRONT_SHARE = math.radians(4)  # the front waist bends so much more than square to the side, the back so much less
# How near to the corner of its tangents a crotch is drawn: a fair J.
FRONT_J = 0.34
BACK_J = 0.38
PLEAT_DEPTH = 70.0  # its folds are drawn, and may be stitched or basted, so far down


@dataclass(frozen=True)
class Centre:
    """The line of a centre front or back above its curve."""

    hip: Point  # where the hip's line meets the seam
    waist: Point
    upwards: Point  # direction of the centre's line
    outwards: Point  # direction of the hip's line


@dataclass(frozen=True)
class Half:
    """A front or a back without its waist: the side downwards, the inseam upwards, the crotch from the fork up."""

    leg: Leg
    side: SideLine
    inside: InsideLine
    curve: Path  # from the fork into the centre's line
    centre: Centre
    hip: Point  # at the side

    @property
    def fork(self) -> Point:
        """The crotch's lowest point."""
        return self.inside.path.end

    @property
    def crotch(self) -> Path:
        """The seam from the fork to the waist."""
        return self.curve.then(Path.line(self.curve.end, self.centre.waist))

    @property
    def hip_on_crotch(self) -> float:
        """Where the hip's line meets the crotch, from the fork."""
        hip, level = self.centre.hip, self.centre.outwards.left
        (curve,) = self.curve.segments
        if (hip - curve.d).dot(level) >= 0:
            return curve.length + (hip - curve.d).dot(level) / self.centre.upwards.dot(level)
        return curve.length_to(parameter_where(curve, lambda p: (p - hip).dot(level)))

    @property
    def bulge(self) -> float:
        """How far the crotch stands outside the centre's line, along the hip's line."""
        upwards, away = self.centre.upwards, self.crotch.at(self.hip_on_crotch) - self.centre.waist
        return away.cross(upwards) / self.centre.outwards.cross(upwards)

    def hem(self, slant: float) -> Path:
        """Returns the hem from the side to the inseam."""
        return hem_line(self.leg, self.side.path.end, slant)

    def thigh(self, level: float) -> tuple[Point, Point]:
        """Returns where a level cuts side and inseam."""
        return _at_level(self.side.path, level), _at_level(self.inside.path, level)

    def thigh_width(self, level: float) -> float:
        """Returns the width there."""
        side, inside = self.thigh(level)
        return inside.x - side.x


def _at_level(path: Path, level: float) -> Point:
    """Returns where a path that only falls or only rises passes a level."""
    segment = next((s for s in path.segments if (s.a.y - level) * (s.d.y - level) <= 0), None)
    if segment is None:
        raise ValueError("a seam doesn't reach the thigh")
    return segment.at(parameter_where(segment, lambda p: p.y - level))


@dataclass
class _Trial:
    """What isn't known until front and back are drawn together; each is corrected by what its line misses."""

    fork: float  # front and back together
    intakes: dict[str, float]  # at the side, by piece
    bulges: dict[str, float]  # how far the crotch stands outside the centre's line at the hip
    level: float  # of the back's hip at the side
    waist: float  # of the back's side
    low: float  # of the back's fork


def matched_halves(r: Recorder) -> tuple[Half, Half]:
    """Returns front and back that agree, their fork giving the thigh its ease as nearly as a fork's limits allow.

    Where no dart or pleat brings a waist to its length, its side seam is taken in until it has it.
    Raises ValueError where they can't be drawn.
    """
    intake = r["intake of a side seam"]
    trial = _Trial(
        fork=(r["narrowest fork"] + r["widest fork"]) / 2,
        intakes={"front": intake, "back": intake},
        bulges={"front": 0.0, "back": 0.0},
        level=r["hip line"],
        waist=r["rise at the side"],
        low=r["fork line"] - r["stretch of the inseam"],
    )
    for _ in range(80):
        front = _front(r, trial)
        back = _back(r, trial, front)
        moved = _correct(r, trial, front, back)
        if moved < 0.05 and not (r["front folds"] and r["back darts"]):
            moved += _correct_waists(r, trial, front, back)
        if moved < 1e-4:
            for name, folds in (("front", "front folds"), ("back", "back darts")):
                if not r[folds]:
                    rule = "until the bowed waist, without a dart, has its length"
                    r.found(f"intake of the {name}'s side seam", f"trousers-{name}", rule, trial.intakes[name])
            return front, back
    raise ValueError("the back's seams can't be brought to the front's length")


def _front(r: Recorder, trial: _Trial) -> Half:
    """Returns the front; the crease halves it at the fork."""
    leg = Leg(r["hip line"], r["fork line"], r["knee line"], r["hem line"], r["front knee"], r["front hem"])
    fork = trial.fork / 3
    half = (r["front hip"] + fork) / 2
    hip, at_hip = Point(-half, leg.hip), Point(half - fork, leg.hip)
    on_line = at_hip - RIGHT * trial.bulges["front"]
    waist = Point(on_line.x - r["lean of the centre front"], -r["drop of the centre front"])
    upwards = (waist - on_line).unit
    inside = inside_line(leg, Point(half, leg.fork))
    return Half(
        leg=leg,
        side=side_line(leg, hip, r["rise at the side"], trial.intakes["front"] - trial.bulges["front"]),
        inside=inside,
        curve=fork_curve(
            inside.path,
            on_line,
            upwards,
            rise=r["rise of the front curve"],
            hollow=FRONT_J,
        ),
        centre=Centre(at_hip, waist, upwards, RIGHT),
        hip=hip,
    )


def _back(r: Recorder, trial: _Trial, front: Half) -> Half:
    """Returns the back; its hip is measured square to the seat's line."""
    leg = Leg(r["hip line"], r["fork line"], r["knee line"], r["hem line"], r["back knee"], r["back hem"])
    angle = r["seat angle"]
    square, upwards = Point(math.cos(angle), math.sin(angle)), Point(-math.sin(angle), math.cos(angle))
    to_line = r["back hip"] - trial.bulges["back"]
    # the seat's line passes the fork's level at the fork's width from its tip; the hip, square to it, gives the rest
    half = ((to_line + (trial.level - leg.fork) * square.y) / square.x + trial.fork * 2 / 3) / 2
    hip = Point(-half, trial.level)
    on_line = hip + square * to_line
    inside = inside_line(leg, Point(half, trial.low))
    return Half(
        leg=leg,
        side=side_line(leg, hip, trial.waist, trial.intakes["back"] - trial.bulges["back"]),
        inside=inside,
        curve=fork_curve(
            inside.path,
            on_line,
            upwards,
            rise=r["rise of the seat's curve"],
            hollow=BACK_J,
        ),
        centre=Centre(
            hip=hip + square * r["back hip"],
            waist=on_line + upwards * r["hip to centre back waist"],
            upwards=upwards,
            outwards=square,
        ),
        hip=hip,
    )


def _correct(r: Recorder, trial: _Trial, front: Half, back: Half) -> float:
    """Corrects the trial by what the lines miss; returns how much it moved."""
    level = r["thigh line"]
    thigh = front.thigh_width(level) + back.thigh_width(level) - r["thigh wanted"]
    fork = min(max(trial.fork - thigh / 0.87, r["narrowest fork"]), r["widest fork"])
    off_hip = back.side.hip - front.side.hip
    off_knee = back.side.knee - back.side.hip - (front.side.knee - front.side.hip)
    above = [half.inside.path.length - half.inside.knee for half in (front, back)]
    off_inside = above[1] - above[0] + r["stretch of the inseam"]
    bulges = {"front": front.bulge, "back": back.bulge}
    moved = sum(abs(bulges[name] - trial.bulges[name]) for name in bulges) + abs(fork - trial.fork)
    trial.fork = fork
    trial.bulges = bulges
    trial.level -= off_knee
    trial.waist -= off_hip + off_knee
    trial.low -= off_inside
    return moved + abs(off_hip) + abs(off_knee) + abs(off_inside)


def _correct_waists(r: Recorder, trial: _Trial, front: Half, back: Half) -> float:
    off = {"front": 0.0, "back": 0.0}
    if not r["front folds"]:
        off["front"] = front_waist(r, front, None).closed.length - r["front waist wanted"]
    if not r["back darts"]:
        off["back"] = back_waist(r, back, None).closed.length - (r["half waist"] - r["front waist wanted"])
    for name, by in off.items():
        trial.intakes[name] += by
    return abs(off["front"]) + abs(off["back"])


def front_waist(r: Recorder, half: Half, length: float | None) -> WaistLine:
    """Returns the front's waist with its dart or pleats; those take what a wanted length asks."""
    plans: list[DartPlan | PleatPlan] = []
    at = 0.0
    for share in PLEAT_SHARES.get(int(r["number of pleats"]), ()):
        plans.append(PleatPlan(share * r["front folds"], at, PLEAT_DEPTH))
        at -= share * r["front folds"] + BETWEEN_PLEATS
    if not plans and r["front folds"]:
        plans.append(DartPlan(r["front folds"], r["front dart length"], plumb_at=0.0))
    return _waist(half, plans, length, FRONT_GIVE, -FRONT_SHARE)


def back_waist(r: Recorder, half: Half, length: float | None) -> WaistLine:
    """Returns the back's waist with its darts, square to it; those take what a wanted length asks."""
    count = int(r["number of back darts"]) if r["back darts"] >= TWO_DARTS else min(1, int(r["back darts"]))
    lengths = (r["back dart length"], r["back dart length"] - 12.0)
    plans = [
        DartPlan(r["back darts"] / count, long, part, axis=UPRIGHT + r["seat angle"])
        for part, long in zip(BACK_DART_PLACES.get(count, ()), lengths, strict=False)
    ]
    return _waist(half, plans, length, BACK_GIVE, FRONT_SHARE)


def _waist(
    half: Half, plans: Sequence[DartPlan | PleatPlan], length: float | None, give: tuple[float, float], turn: float
) -> WaistLine:
    side, centre = half.side.path, half.centre
    arriving = side.start_tangent.right.rotated(turn)
    return true_waist(centre.waist, centre.upwards, side.start, arriving, plans, length=length, give=give)


def with_waist(half: Half, waist: WaistLine) -> Half:
    """Returns a half whose centre ends where its waist begins."""
    return replace(half, centre=replace(half.centre, waist=waist.closed.start))


__all__ = ["BACK_DART_PLACES", "Centre", "Half", "back_waist", "front_waist", "matched_halves", "with_waist"]
