"""What every set-in sleeve begins from: the arm, the armhole, the ease held in, and the width that goes with them.

Three things are given and one is found: the sleeve's underarm is the armhole's own bottom, the width is the arm's
with its ease, the cap is as long as its armhole and the ease held in; so the cap's height follows. The armhole has
been drawn deep enough for that arm (`frame`); a cap still too low or too high for a sleeve that hangs well is refused.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass, replace

from settwright.body import Body
from settwright.commission.design import JacketDesign, SleeveCut, SleeveLength
from settwright.findings import Finding, Refusal, Weight
from settwright.geometry import Point
from settwright.pattern.drafts.armhole import Armhole
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.sleeve_lines import Arm, Cap, Folded, Frame, Underarm, capped, folded
from settwright.pattern.piece import Notch, Piece, Seam, Side

CAP_RANGE = (0.6, 0.92)  # cap height as a part of the mean scye depth; mostly 0.72 to 0.86
OTHER_EASES = (20, 150)  # of the upper arm, among which one is sought that does where the chosen one doesn't
RAGLAN_EASE = 20.0  # of a raglan's flat sleeve; the seam over the arm takes it up
THREE_QUARTER = 0.78  # of the length from the shoulder: a hand's width above the wrist


def cap_ease(design: JacketDesign) -> float:
    """Returns by how much the cap is longer than its armhole, millimetres: as chosen, but for a raglan."""
    return RAGLAN_EASE if design.sleeve_cut is SleeveCut.RAGLAN else design.cap_ease


def darts_in_the_shoulder(*pieces: Piece) -> tuple[Finding, ...]:
    """Returns what hinders a sleeve that takes the shoulder with it: a dart in the shoulder of front or back."""
    return tuple(
        Finding(
            Weight.REFUSED,
            "jacket.bust_dart" if piece.name == "front" else "jacket.back_shoulder",
            f"the dart in the {piece.name}'s shoulder would lie on the sleeve.",
            "Put the dart into the side seam." if piece.name == "front" else "Ease the back shoulder.",
        )
        for piece in pieces
        if any(line.name == "shoulder-dart" for line in piece.lines)
    )


def known_of_the_arm(body: Body, design: JacketDesign) -> dict[str, float]:
    """Returns measurements and choices under the words that a sleeve's rules use."""
    names = ("upper_arm_girth", "elbow_girth", "wrist_girth", "arm_length", "upper_arm_length")
    return {name.replace("_", " "): body[name] for name in names} | {
        "shoulder pad": design.shoulder_pad,
        "ease of the upper arm": design.ease.upper_arm,
        "cap ease": cap_ease(design),
        "vent length": design.sleeve_vent,
    }


def read_arm(r: Recorder, design: JacketDesign) -> Arm:
    """Returns the lengths and widths that the sleeve should have. Raises Refusal where they don't go together."""
    of = "sleeve"
    r.number("full length", of, "arm length + shoulder pad")
    r.number("length to the elbow", of, "upper arm length + shoulder pad")
    r.number("wanted width folded", of, "(upper arm girth + ease of the upper arm) / 2")
    if design.sleeve_hem is None:
        r.number(
            "sleeve hem",
            of,
            "most of (wrist girth + 70 mm; (upper arm girth + ease of the upper arm) × 0.4 + 110 mm)",
            "common practice, no source: a larger arm's sleeve tapers no faster than a middling one's",
        )
    else:
        r.found("sleeve hem", of, "as chosen", design.sleeve_hem)
    r.number("width at the elbow folded", of, "(elbow girth + 45 mm) / 2")
    r.number("full length's hem folded", of, "sleeve hem / 2")
    _check(r)
    if design.sleeve_length is SleeveLength.THREE_QUARTER:
        r.number("length from the shoulder", of, f"full length × {THREE_QUARTER}")
        r.number(
            "width at the hem folded",
            of,
            "full length's hem folded + (width at the elbow folded − full length's hem folded)"
            " × (full length − length from the shoulder) / (full length − length to the elbow)",
            "common practice, no source: as wide as the full sleeve is there",
        )
    else:
        r.number("length from the shoulder", of, "full length")
        r.number("width at the hem folded", of, "full length's hem folded")
    return Arm(
        length=r["length from the shoulder"],
        to_elbow=r["length to the elbow"],
        girth=r["upper arm girth"],
        biceps=r["wanted width folded"],
        elbow=r["width at the elbow folded"],
        hem=r["width at the hem folded"],
    )


def _check(r: Recorder) -> None:
    wrong: list[Finding] = []

    def hold(is_right: bool, where: str, what: str, remedy: str) -> None:
        if not is_right:
            wrong.append(Finding(Weight.REFUSED, where, what, remedy))

    hold(
        0.4 * r["full length"] <= r["length to the elbow"] <= 0.75 * r["full length"],
        "measurements.upper_arm_length",
        f"{r['upper arm length']:.0f} mm from shoulder to elbow doesn't go with an arm of {r['arm length']:.0f} mm.",
        "Measure both again with the arm slightly bent.",
    )
    hold(
        r["sleeve hem"] >= r["wrist girth"] + 15,
        "design.sleeve_hem",
        f"{r['sleeve hem']:.0f} mm round is too narrow for a wrist of {r['wrist girth']:.0f} mm.",
        "Widen the sleeve's hem.",
    )
    hold(
        r["sleeve hem"] <= r["upper arm girth"] + r["ease of the upper arm"],
        "design.sleeve_hem",
        f"{r['sleeve hem']:.0f} mm round is wider than the sleeve at the upper arm.",
        "Narrow the sleeve's hem.",
    )
    hold(
        0 <= r["cap ease"] <= 70,
        "design.cap_ease",
        f"no cap takes {r['cap ease']:.0f} mm of ease.",
        "Choose 25 to 45 mm; up to 60 in a soft wool.",
    )
    hold(
        0 <= r["vent length"] <= 160,
        "design.sleeve_vent",
        f"a vent of {r['vent length']:.0f} mm would open near the elbow.",
        "Choose 80 to 110 mm, or 0 for none.",
    )
    if wrong:
        raise Refusal(wrong)


@dataclass(frozen=True)
class Held:
    """The cap's four stretches from forearm-top to hindarm-top: the armhole's length and the ease held in to it."""

    on_armhole: tuple[float, ...]
    ease: tuple[float, ...]

    @property
    def places(self) -> tuple[float, ...]:
        """Arc lengths of front-pitch, shoulder-point, back-pitch and the end on the cap."""
        return tuple(itertools.accumulate(a + e for a, e in zip(self.on_armhole, self.ease, strict=True)))


def spread(r: Recorder, armhole: Armhole) -> Held:
    """Returns how the cap's ease is spread: more behind the shoulder than before it, little below the pitches."""
    of = "sleeve cap"
    stretches = (
        ("armhole below the front pitch", "front-pitch", "forearm-top"),
        ("armhole above the front pitch", "shoulder-point", "front-pitch"),
        ("armhole above the back pitch", "back-pitch", "shoulder-point-back"),
        ("armhole below the back pitch", "hindarm-top", "back-pitch"),
    )
    for name, first, last in stretches:
        r.found(name, of, "walked along the armhole", armhole.between(first, last))
    r.number("ease behind the shoulder", of, "cap ease × 0.56")
    r.number(
        "ease below the front pitch",
        of,
        "(cap ease − ease behind the shoulder) × armhole below the front pitch"
        " / (armhole below the front pitch + armhole above the front pitch × 8)",
    )
    r.number("ease above the front pitch", of, "cap ease − ease behind the shoulder − ease below the front pitch")
    r.number(
        "ease below the back pitch",
        of,
        "ease behind the shoulder × armhole below the back pitch"
        " / (armhole below the back pitch + armhole above the back pitch × 2.5)",
    )
    r.number("ease above the back pitch", of, "ease behind the shoulder − ease below the back pitch")
    return Held(
        tuple(r[name] for name, _, _ in stretches),
        tuple(r[name.replace("armhole", "ease")] for name, _, _ in stretches),
    )


@dataclass(frozen=True)
class Fitted:
    """The folded sleeve with what it was drafted from."""

    armhole: Armhole
    arm: Arm
    held: Held
    lines: Folded

    @property
    def shoulder(self) -> Point:
        """Where the cap meets the shoulder seam."""
        return self.lines.cap.at(self.held.places[1])


def fit(armhole: Armhole, arm: Arm, held: Held) -> Fitted:
    """Returns the sleeve of the wanted width.

    Raises Refusal where its cap would be too low or too high to hang well, telling the ease that would do.
    """
    underarm = Underarm.of(armhole)
    found = _hanging(underarm, armhole, arm, held)
    if found is None:
        raise Refusal([_no_sleeve(underarm, armhole, arm, held)])
    return Fitted(armhole, arm, held, folded(*found, arm))


def _hanging(underarm: Underarm, armhole: Armhole, arm: Arm, held: Held) -> tuple[Frame, Cap] | None:
    """Returns corners and cap of a sleeve that hangs well, or nothing."""
    depth = armhole.depth
    try:
        corners, cap = capped(underarm, arm, held.places[-1], depth)
    except ValueError:
        return None
    return (corners, cap) if CAP_RANGE[0] <= cap.height / depth <= CAP_RANGE[1] else None


def record_fit(r: Recorder, sleeve: Fitted) -> None:
    """Keeps the width that was found and the cap that goes with it, of any set-in sleeve."""
    lines, depth = sleeve.lines, sleeve.armhole.depth
    r.found(
        "width, folded",
        "sleeve",
        "level at the underarm, so that a tape drawn taut round the sewn sleeve is as long as wanted",
        lines.corners.biceps,
        ("wanted width folded",),
    )
    r.found(
        "width round the upper arm",
        "sleeve",
        "a taut tape round the sewn sleeve at the underarm; it lies straight on the sleeve spread out flat",
        2 * lines.corners.taut,
        ("width, folded",),
    )
    r.found("mean scye depth", "sleeve cap", "from the middle of the shoulder points to the underarm", depth)
    r.found("length of the cap", "sleeve cap", "its armhole and its ease", sleeve.held.places[-1], ("cap ease",))
    r.found(
        "height of the cap", "sleeve cap", "follows from its length and the sleeve's width", lines.height,
        ("length of the cap",),
    )  # fmt: skip
    r.number("height in the scye depth", "sleeve cap", "height of the cap / mean scye depth")


def _no_sleeve(underarm: Underarm, armhole: Armhole, arm: Arm, held: Held) -> Finding:
    asked = round(2 * arm.biceps - arm.girth)
    eases = sorted(range(OTHER_EASES[0], OTHER_EASES[1] + 1, 5), key=lambda ease: abs(ease - asked))
    other = next(
        (e for e in eases if _hanging(underarm, armhole, replace(arm, biceps=(arm.girth + e) / 2), held)), None
    )
    remedy = "give the jacket more ease at the bust" if other is None else f"choose {other} mm of ease there"
    return Finding(
        Weight.REFUSED,
        "measurements.upper_arm_girth",
        f"no sleeve for an arm of {arm.girth:.0f} mm and {asked} mm of ease goes into an armhole of"
        f" {armhole.girth:.0f} mm.",
        f"Measure the upper arm again, or {remedy}.",
    )


@dataclass(frozen=True)
class Stretch:
    """One stretch of the armhole and where it lies on the sleeve: two lengths that are sewn together."""

    first: float  # arc lengths on the armhole
    last: float
    at_first: float  # arc lengths on the sleeve's edge
    at_last: float

    def place(self, s: float) -> float:
        """Returns where a place on the armhole lies on the sleeve."""
        return self.at_first + (self.at_last - self.at_first) * (s - self.first) / (self.last - self.first)


@dataclass(frozen=True)
class Setting:
    """A sleeve's edge laid along the armhole: its stretches in the armhole's order, and which edge it is."""

    edge: Side
    stretches: tuple[Stretch, ...]

    def _covers(self, s: float) -> bool:
        return self.stretches[0].first - 1e-6 <= s <= self.stretches[-1].last + 1e-6

    def place(self, s: float) -> float:
        """Returns where a place on the armhole, told as arc length, lies on the edge."""
        held = next((x for x in self.stretches if s <= x.last + 1e-6), self.stretches[-1])
        return held.place(s)

    def notches(self, armhole: Armhole) -> tuple[Notch, ...]:
        """Returns the armhole's stops on the edge, without the edge's own ends."""
        ends = {round(self.stretches[0].first, 6), round(self.stretches[-1].last, 6)}
        found = [
            Notch("shoulder-point" if name == "shoulder-point-back" else name, self.edge.edge, self.place(s))
            for name, s in armhole.stops
            if self._covers(s) and round(s, 6) not in ends
        ]
        return tuple(sorted(found, key=lambda notch: notch.at))

    def seams(self, armhole: Armhole, name: str) -> Iterator[Seam]:
        """Yields a seam for each piece of the body that holds a stretch of the armhole here, named after it.

        Its stops follow the edge of the sleeve, where the body's pieces name theirs alike.
        """
        backwards = self.stretches[0].at_first > self.stretches[-1].at_last
        for part in armhole.parts:
            low, high = armhole.stop(part.first), armhole.stop(part.last)
            stops = [(n, s) for n, s in armhole.stops if low - 1e-6 <= s <= high + 1e-6 and self._covers(s)]
            if len(stops) < 2:
                continue
            stops = sorted(stops, key=lambda stop: stop[1], reverse=backwards)
            ease = tuple(
                round(abs(self.place(b) - self.place(a)) - abs(b - a), 6) + 0.0
                for (_, a), (_, b) in itertools.pairwise(stops)
            )
            names = tuple("shoulder-point" if n == "shoulder-point-back" else n for n, _ in stops)
            yield Seam(f"{name}-{part.piece}", Side(part.piece, "armhole"), self.edge, names, ease)


def set_in(fitted: Fitted, cap: Side, scye: Side) -> tuple[Setting, Setting, Setting]:
    """Returns how cap (front and back of the shoulder) and scye lie along the armhole."""
    armhole, places = fitted.armhole, (0.0, *fitted.held.places)
    stop = armhole.stop

    def stretch(first: str, last: str, at_first: float, at_last: float) -> Stretch:
        return Stretch(stop(first), stop(last), at_first, at_last)

    front = Setting(cap, (
        stretch("shoulder-point", "front-pitch", places[2], places[1]),
        stretch("front-pitch", "forearm-top", places[1], places[0]),
    ))  # fmt: skip
    back = Setting(cap, (
        stretch("hindarm-top", "back-pitch", places[4], places[3]),
        stretch("back-pitch", "shoulder-point-back", places[3], places[2]),
    ))  # fmt: skip
    bottom = armhole.between("forearm-top", "hindarm-top")
    under = Setting(scye, (stretch("forearm-top", "hindarm-top", bottom, 0.0),))
    return front, back, under
