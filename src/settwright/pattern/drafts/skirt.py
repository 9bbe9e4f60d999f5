"""A straight skirt: a whole front, two back panels with a zip and a vent between them, a waistband.

What waist and hip differ by goes into side seams and darts by fixed shares. A dart too small to be worth sewing is
left out, and the side seam takes its share; so a straight or stout figure gets a skirt without darts.
"""

from __future__ import annotations

from dataclasses import dataclass

from settwright.body import Body
from settwright.commission.design import SkirtCut, SkirtDesign, WaistFinish
from settwright.findings import Finding, Refusal, Weight
from settwright.geometry import Path, Point, Transform
from settwright.pattern.drafts.bending import root
from settwright.pattern.drafts.pleated import lay_pleats, pleat_touches, pleated_back, pleated_front, pleated_waist
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.skirt_panel import LEAST_DART, DartPlan, Panel, Profile, draw_panel
from settwright.pattern.drafts.skirt_top import draft_top, known_of_the_top, with_top_darts
from settwright.pattern.drafts.skirt_waist import SHORT, Waist, between_darts, draw_ribbon, draw_waistband
from settwright.pattern.drafts.vents import LAP, TOP, UNDER, lapped, record_lap, vent_touch
from settwright.pattern.piece import Cut, Draft, Edge, Line, LineKind, Mark, Notch, Piece, Seam, Side, Touch

HANG = 60.0  # length of the jacket hem's line beside the centre
TWO_DARTS = 28.0  # more than this is shared between two darts
FRONT_DART_PLACE = 0.5  # of the closed waist, from the centre
BACK_DART_PLACES = {1: (0.5,), 2: (0.36, 0.68)}


def draft_skirt(body: Body, design: SkirtDesign, jacket_hem_drop: float | None) -> Draft:
    """Returns the skirt. `jacket_hem_drop` is how far below the waist a jacket's hem hangs over it, None without one.

    Raises Refusal that names the measurement or choice from which no skirt can be cut.
    """
    has_top = design.waist_finish is WaistFinish.BODICE_TOP
    r = Recorder(_known(body, design) | (known_of_the_top(body, design) if has_top else {}))
    _reckon_girths(r, design)
    if design.cut is SkirtCut.PLEATED:
        _check(r, body, design)
        pieces, waist, pleats = _pleated_pieces(r, design, jacket_hem_drop)
    else:
        _reckon_panels(r, design)
        _check(r, body, design)
        pieces, waist = _panel_pieces(r, design, jacket_hem_drop)
        pleats = ()
    if design.waist_finish is WaistFinish.BODICE_TOP:
        waist, pieces = with_top_darts(waist, pieces)
        finish, top_seams = draft_top(r, waist)
        waist_seams = (*waist.seams("top"), *top_seams)
    else:
        finish, waist_seams = _finish(r, design, waist)
    height = r["waist height"]
    return Draft(
        name="skirt",
        pieces=(*pieces, *finish),
        seams=(*_length_seams(pieces[1]), *waist_seams),
        touches=(*pleats, *_touches(pieces[1])),
        record=r.steps,
        levels=(("waist", height), ("hip", height - r["waist to hip"]), ("hem", height - r["length"])),
    )


def _with_vent(r: Recorder, back: Piece) -> Piece:
    """Returns the back with the vent of its centre, where it has one."""
    if not _has_vent(back):
        return back
    back = lapped(back, "centre-back", LAP, UNDER, is_fold=True)
    record_lap(r, back.moved(Transform.mirror_x()))  # the record's panels have their side at the left
    return back


def _touches(back: Piece) -> tuple[Touch, ...]:
    """Returns how the halves of a vent lap."""
    side = Side("skirt-back", "centre-back")
    return (vent_touch("skirt-vent", side, side, across=True),) if _has_vent(back) else ()


def _panel_pieces(r: Recorder, design: SkirtDesign, jacket_hem_drop: float | None) -> tuple[tuple[Piece, ...], Waist]:
    """Returns front and back of a skirt with darts, and its waist."""
    try:
        front, back = _panels(r)
    except ValueError as error:
        raise Refusal(
            [
                Finding(
                    Weight.REFUSED,
                    "measurements.waist_girth",
                    f"no dart brings this hip to this waist ({error}).",
                    "Measure waist and hip again.",
                )
            ]
        ) from error
    _record_points(r, front, back)
    pieces = (
        _front_piece(front, r, jacket_hem_drop).unfolded("centre-front").on_grain(),
        _with_vent(r, _back_piece(back, r, jacket_hem_drop, design.waist_finish is WaistFinish.RIBBON)).on_grain(),
    )
    return pieces, _waist(front, back)


def _pleated_pieces(
    r: Recorder, design: SkirtDesign, jacket_hem_drop: float | None
) -> tuple[tuple[Piece, ...], Waist, tuple[Touch, ...]]:
    """Returns front and back of a pleated skirt, its waist, and where folds of two pieces are seen side by side."""
    skirt = lay_pleats(r)
    has_ribbon = design.waist_finish is WaistFinish.RIBBON
    pieces = (
        pleated_front(skirt, _jacket_hem(jacket_hem_drop, "centre-front", -HANG)).unfolded("centre-front").on_grain(),
        pleated_back(skirt, r["zip length"], _jacket_hem(jacket_hem_drop, "centre-back", HANG), has_ribbon).on_grain(),
    )
    return pieces, pleated_waist(skirt), pleat_touches(skirt)


def _known(body: Body, design: SkirtDesign) -> dict[str, float]:
    names = ("waist_girth", "hip_girth", "waist_to_hip", "waist_height")
    return {name.replace("_", " "): body[name] for name in names} | {
        "length": design.length,
        "ease at the waist": design.ease_waist,
        "ease at the hip": design.ease_hip,
        "taper": design.hem_taper,
        "flare": design.flare,
        "waistband width": design.waistband_width,
        "held in": design.held_in,
        "ribbon width": design.ribbon_width,
        "repeat across the cloth": design.pleat_repeat,
        "zip length": design.zip_length,
        "front dart moved by": design.moved.front_dart,
        "back darts moved by": design.moved.back_darts,
        "vent length": design.vent_length,
    }


def _reckon_girths(r: Recorder, design: SkirtDesign) -> None:
    of = "skirt"
    r.number("half hip", of, "(hip girth + ease at the hip) / 2")
    if design.waist_finish is WaistFinish.RIBBON:
        r.number("ease at the waist", of, "held in + 5 mm")
    r.number("half waist", of, "(waist girth + ease at the waist) / 2")
    r.number("ease of the waistband", "waistband", "least of (5 mm; most of (0; ease at the waist))")
    r.number("finished waistband", "waistband", "waist girth + ease of the waistband")
    r.number("underlap", "waistband", "30 mm")
    r.number("intake", of, "half hip − half waist")


def _reckon_panels(r: Recorder, design: SkirtDesign) -> None:
    of = "skirt"
    r.number("front hip", "skirt-front", "half hip / 2 + 5 mm")
    r.number("back hip", "skirt-back", "half hip / 2 − 5 mm")
    r.number("front dart wanted", "skirt-front", "least of (36 mm; intake × 0.19)")
    r.number("back darts wanted", "skirt-back", "least of (72 mm; intake × 0.36)")
    for name, piece in (("front dart", "skirt-front"), ("back darts", "skirt-back")):
        is_worth = r[f"{name} wanted"] >= LEAST_DART
        r.number(
            name,
            piece,
            f"{name} wanted" if is_worth else "0",
            "common practice, no source" if is_worth else "common practice, no source: too small to be worth sewing",
        )
    r.number("intake of a side seam", of, "(intake − front dart − back darts) / 2")
    r.number("rise at the side", of, "most of (3 mm; least of (22 mm; 9 mm + intake of a side seam × 0.2))")
    r.number("drop of the centre back", "skirt-back", "10 mm")
    r.number("front waist wanted", "skirt-front", "front hip − intake of a side seam − front dart")
    r.number("front dart length", "skirt-front", "least of (105 mm; most of (60 mm; waist to hip × 0.47))")
    r.number("back dart length", "skirt-back", "least of (145 mm; most of (80 mm; waist to hip × 0.66))")
    r.number("side back dart length", "skirt-back", "back dart length − 12 mm")
    if design.cut is SkirtCut.FLARED:
        _reckon_flare(r)
    else:
        r.found("flare from the darts", of, "none", 0.0)
    r.number("dip of the hem at the side", of, "taper × 80 mm / (length − waist to hip)")
    r.number("hem at the side", of, "−length − dip of the hem at the side")


def _reckon_flare(r: Recorder) -> None:
    """Works out how much of the flare the darts give, alike before and behind, and how much the side seams."""
    of = "skirt"
    for name, part in (("front dart", "front"), ("back dart", "back")):
        whole = "back darts" if part == "back" else "front dart"
        r.number(f"most that the {part} gives", f"skirt-{part}", f"{whole} × (length − {name} length) / {name} length")
    r.number("flare of a quarter", of, "flare / 4")
    r.number(
        "flare from the darts",
        of,
        "least of (flare of a quarter × 0.75; most that the front gives; most that the back gives)",
        "common practice, no source: shut from the waist, a dart opens into the hem below its point",
    )
    r.number(
        "taper",
        of,
        "−least of ((length − waist to hip) × 0.15; flare of a quarter − flare from the darts)",
        "common practice, no source: the rest is given at the side seams, as far as they still hang",
    )


def _check(r: Recorder, body: Body, design: SkirtDesign) -> None:
    wrong: list[Finding] = []

    def hold(is_right: bool, where: str, what: str, remedy: str) -> None:
        if not is_right:
            wrong.append(Finding(Weight.REFUSED, where, what, remedy))

    hold(
        90 <= r["waist to hip"] <= 350,
        "measurements.waist_to_hip",
        f"{body['waist_to_hip']:.0f} mm from waist to hip is not a figure's.",
        "Measure from the waist tape down the side to the fullest part of the seat.",
    )
    side = 0.0 if design.cut is SkirtCut.PLEATED else r["intake of a side seam"]
    hold(
        side <= 75,
        "measurements.waist_girth",
        "waist and hip differ by more than side seams and darts of a straight skirt can shape.",
        "Measure both again.",
    )
    hold(
        side >= -60 and r["intake"] >= -150,
        "measurements.hip_girth",
        "the waist is so much wider than the hip that a straight skirt would hang from nothing.",
        "Measure both again; the hip goes round the fullest part below the waist.",
    )
    hold(
        design.length >= r["waist to hip"] + 100,
        "design.length",
        f"a skirt of {design.length:.0f} mm ends too near the hip at {r['waist to hip']:.0f} mm.",
        "Make it at least 10 cm longer than the waist to hip.",
    )
    hold(
        design.zip_length >= 0 and design.vent_length >= 0,
        "design.zip_length",
        "zip and vent can't be shorter than nothing.",
        "Write a length, or 0 for none.",
    )
    hold(
        design.cut is SkirtCut.PLEATED or design.zip_length + design.vent_length + 40 <= design.length - 10,
        "design.vent_length",
        "zip and vent leave nothing of the centre back to sew.",
        "Shorten the vent or the zip.",
    )
    hold(
        design.cut is SkirtCut.PLEATED or not 0 < design.vent_length < 40,
        "design.vent_length",
        f"a vent of {design.vent_length:.0f} mm is too short to lap.",
        "Make it at least 4 cm long, or write 0 for none.",
    )
    hold(
        design.cut is not SkirtCut.STRAIGHT or abs(design.hem_taper) <= 0.15 * (design.length - r["waist to hip"]),
        "design.hem_taper",
        f"{design.hem_taper:.0f} mm at each side is more than a straight skirt of this length takes.",
        "Choose less.",
    )
    hold(
        design.ease_hip >= 0 and design.ease_waist >= 0,
        "design.ease_hip",
        "a woven skirt can't be smaller than the body.",
        "Give waist and hip some ease.",
    )
    hold(
        0 <= design.held_in <= 50,
        "design.held_in",
        f"a ribbon that holds {design.held_in:.0f} mm in would pucker the waist.",
        "Choose 10 to 25 mm; 50 is exceptional, kept for letting out.",
    )
    hold(
        0 <= design.flare <= 700,
        "design.flare",
        f"{design.flare:.0f} mm more at the hem is no slightly flared skirt.",
        "Choose 150 to 400 mm.",
    )
    if wrong:
        raise Refusal(wrong)


def _panels(r: Recorder) -> tuple[Panel, Panel]:
    """Returns front and back, their closed waists together half the waist.

    Darts see to that; where there are none, the side seams take in a little more, as a bowed waist is longer than
    a level one.
    """
    intake = r["intake of a side seam"]
    if not r["back darts"]:

        def excess(intake: float) -> float:
            profile = _profile(r, intake)
            return _front_panel(r, profile).closed.length + _back_panel(r, profile, 0.0).closed.length - r["half waist"]

        intake = root(excess, intake - 25.0, intake + 25.0, 1e-6)
        rule = "of a side seam: until the bowed waist, without a dart, has its length"
        r.found("intake without a dart", "skirt", rule, intake, ("intake of a side seam", "half waist"))
    profile = _profile(r, intake)
    front = _front_panel(r, profile)
    r.found("front waist", "skirt-front", "walked, darts closed", front.closed.length)
    return front, _back_panel(r, profile, r.number("back waist", "skirt-back", "half waist − front waist"))


def _profile(r: Recorder, intake: float) -> Profile:
    return Profile.of(r["rise at the side"], -r["waist to hip"], r["hem at the side"], intake, r["taper"])


def _front_panel(r: Recorder, profile: Profile) -> Panel:
    place = FRONT_DART_PLACE + r["front dart moved by"] / r["front waist wanted"]
    darts = [DartPlan(place, r["front dart"], r["front dart length"])] if r["front dart"] else []
    return draw_panel(profile, r["front hip"], r["front waist wanted"], darts, centre_drop=0.0, hem=-r["length"],
                      flare=r["flare from the darts"])  # fmt: skip


def _back_panel(r: Recorder, profile: Profile, waist: float) -> Panel:
    count = (1 if r["back darts"] <= TWO_DARTS else 2) if r["back darts"] else 0
    lengths = (r["back dart length"], r["side back dart length"])
    darts = [
        DartPlan(place + r["back darts moved by"] / waist, r["back darts"] / count, length)
        for place, length in zip(BACK_DART_PLACES.get(count, ()), lengths, strict=False)
    ]
    return draw_panel(profile, r["back hip"], waist, darts, centre_drop=r["drop of the centre back"], hem=-r["length"],
                      flare=r["flare from the darts"])  # fmt: skip


@dataclass(frozen=True)
class _WaistEdge:
    """A panel's waist as one edge from the centre outwards, with its darts' mouths."""

    path: Path
    stops: tuple[float, ...]  # inner and outer leg of each dart in turn

    @classmethod
    def of(cls, panel: Panel) -> _WaistEdge:
        path = panel.stretches[0]
        stops: list[float] = []
        for dart, stretch in zip(panel.darts, panel.stretches[1:], strict=True):
            stops.append(path.length)
            path = path.then(Path.line(dart.inner, dart.peak, dart.outer))
            stops.append(path.length)
            path = path.then(stretch)
        return cls(path, tuple(stops))


def _front_piece(panel: Panel, r: Recorder, jacket_hem_drop: float | None) -> Piece:
    waist = _WaistEdge.of(panel)
    hip = -r["waist to hip"]
    return Piece(
        name="skirt-front",
        title="Skirt front",
        cut=Cut.WHOLE,
        edges=(
            Edge("waist", waist.path, "centre-front", "side"),
            Edge("side", panel.side, "waist", "hem"),
            Edge("hem", panel.hem, "side", "centre-front"),
            Edge("centre-front", Path.line(panel.centre_hem, panel.centre_waist), "hem", "waist"),
        ),
        notches=(
            *(Notch(f"dart-{index // 2 + 1}-{'ab'[index % 2]}", "waist", at) for index, at in enumerate(waist.stops)),
            Notch("hip", "side", panel.hip),
        ),
        marks=tuple(Mark(f"dart-{i}-point", dart.point) for i, dart in enumerate(panel.darts, 1)),
        lines=(
            Line("hip", LineKind.LEVEL, panel.hip_line, "centre-front", "side"),
            *(
                Line(f"dart-{i}", LineKind.DART, Path.line(dart.inner, dart.point, dart.outer))
                for i, dart in enumerate(panel.darts, 1)
            ),
            *_jacket_hem(jacket_hem_drop, "centre-front", -HANG),
        ),
        grain_mark=Point(0.0, hip),
    )


def _back_piece(panel: Panel, r: Recorder, jacket_hem_drop: float | None, has_ribbon: bool) -> Piece:
    """Returns the back panel, its side turned to the right."""
    waist, over = _WaistEdge.of(panel), Transform.mirror_x()
    length, count = waist.path.length, len(panel.darts)
    centre = Path.line(panel.centre_waist, panel.centre_hem)
    hip = -r["waist to hip"]
    zip_end, vent_top = r["zip length"], centre.length - r["vent length"]
    darts = [(count - i, dart) for i, dart in enumerate(panel.darts)]  # numbered from the side
    return Piece(
        name="skirt-back",
        title="Skirt back",
        cut=Cut.PAIR,
        edges=(
            Edge("centre-back", centre, "waist", "hem"),
            Edge("hem", panel.hem.reversed().moved(over), "centre-back", "side"),
            Edge("side", panel.side.reversed().moved(over), "hem", "waist"),
            Edge("waist", waist.path.reversed().moved(over), "side", "centre-back"),
        ),
        notches=(
            Notch("zip-end", "centre-back", zip_end),
            *([Notch(TOP, "centre-back", vent_top)] if r["vent length"] else []),
            Notch("hip", "side", panel.side.length - panel.hip),
            *([Notch("ribbon-end", "waist", length - SHORT)] if has_ribbon else []),
            *(
                Notch(f"dart-{index // 2 + 1}-{'ab'[index % 2]}", "waist", length - at)
                for index, at in enumerate(reversed(waist.stops))
            ),
        ),
        marks=(
            *(Mark(f"dart-{number}-point", over(dart.point)) for number, dart in reversed(darts)),
            *([Mark(TOP, centre.at(vent_top))] if r["vent length"] else []),
        ),
        lines=(
            Line("hip", LineKind.LEVEL, panel.hip_line.moved(over), "centre-back", "side"),
            *(
                Line(
                    f"dart-{number}",
                    LineKind.DART,
                    Path.line(over(dart.outer), over(dart.point), over(dart.inner)),
                )
                for number, dart in reversed(darts)
            ),
            *_jacket_hem(jacket_hem_drop, "centre-back", HANG),
        ),
        grain_mark=Point(r["back hip"] / 2, hip),
    )


def _jacket_hem(drop: float | None, centre: str, to: float) -> tuple[Line, ...]:
    if drop is None:
        return ()
    path = Path.line(Point(0.0, -drop), Point(to, -drop))
    return (Line("jacket-hem", LineKind.PLACE, path, centre, "hang-end"),)


def _has_vent(back: Piece) -> bool:
    return any(notch.name == TOP for notch in back.notches)


def _length_seams(back: Piece) -> tuple[Seam, ...]:
    return (
        Seam(
            "skirt-centre-back",
            Side("skirt-back", "centre-back"),
            Side("skirt-back", "centre-back"),
            ("waist", "zip-end", TOP if _has_vent(back) else "hem"),
            (0.0, 0.0),
            across=True,
        ),
        Seam(
            "skirt-side",
            Side("skirt-front", "side"),
            Side("skirt-back", "side"),
            ("waist", "hip", "hem"),
            (0.0, 0.0),
        ),
    )


def _waist(front: Panel, back: Panel) -> Waist:
    count = len(back.darts)
    return Waist(
        back=between_darts("back", [path.length for path in back.stretches], range(count, 0, -1)),
        front=between_darts("front", [path.length for path in front.stretches], range(1, len(front.darts) + 1)),
    )


def _finish(r: Recorder, design: SkirtDesign, waist: Waist) -> tuple[tuple[Piece, ...], tuple[Seam, ...]]:
    """Returns what holds the waist, and its seams."""
    if design.waist_finish is WaistFinish.RIBBON:
        held = waist.held_in(r["held in"] / 2).short_of_the_zip()
        return (draw_ribbon(r, held),), held.seams("waist-ribbon")
    held = waist.held_in(r["half waist"] - r["finished waistband"] / 2)
    return (draw_waistband(r, held),), held.seams("waistband")


def _record_points(r: Recorder, front: Panel, back: Panel) -> None:
    for of, panel in (("skirt-front", front), ("skirt-back", back)):
        r.found("centre at the waist", of, "on the centre, level or dropped", panel.centre_waist)
        r.found("side at the waist", of, "raised, taken in from the hip's line", panel.side.start)
        r.found("side at the hip", of, "the hip's line", panel.side.at(panel.hip))
        r.found("hip as drawn", of, "from the centre to the side", panel.hip_line.length)
        r.found("side at the hem", of, "tapered, dipped so that the hem is square", panel.side.end)
        r.drawn("side seam", of, "rounded over the hip, straight below it", panel.side)
        r.drawn("hem", of, "square to the side, level to the centre", panel.hem)
        for stretch in panel.stretches:
            r.drawn("waist", of, "square to centre and side with the darts closed, then opened", stretch)
        for number, dart in enumerate(panel.darts, 1):
            r.found(f"dart {number} from the centre, its point", of, "plumb under its mouth's middle", dart.point)
            r.found(
                f"dart {number} from the centre, its width",
                of,
                "opened until the closed waist has its length",
                (dart.outer - dart.inner).length,
            )
