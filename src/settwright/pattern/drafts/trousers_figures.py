"""The trousers' figures by their rules, and what is said of a body or choice from which no trousers can be cut."""

from __future__ import annotations

from settwright.body import Body
from settwright.commission.design import TrousersDesign
from settwright.findings import Finding, Refusal, Weight
from settwright.pattern.drafts.record import Recorder

LEAST_DART = 8.0  # a smaller one isn't worth sewing (common practice, no source)
VINCENT = "Vincent's Systems of Cutting, measures for trousers"
MEMORY = "women's trousers, from memory"

_MEASURES = (
    "waist_girth",
    "hip_girth",
    "waist_to_hip",
    "waist_to_knee",
    "waist_height",
    "crotch_height",
    "thigh_girth",
    "knee_girth",
)


def known_figures(body: Body, design: TrousersDesign) -> dict[str, float]:
    """Returns measurements and choices under the words that the rules use."""
    known = {name.replace("_", " "): body[name] for name in _MEASURES} | {
        "hem above the floor": design.hem_above_floor,
        "ease at the waist": design.ease_waist,
        "ease at the hip": design.ease_hip,
        "ease wanted at the thigh": design.ease_thigh,
        "ease of the rise": design.ease_rise,
        "number of pleats": float(design.pleats),
        "number of back darts": float(design.back_darts),
        "slant of the hem": design.hem_slant,
        "waistband width": design.waistband_width,
        "zip length": design.zip_length,
    }
    for name, chosen in (("chosen knee width", design.knee_width), ("chosen hem width", design.hem_width)):
        if chosen is not None:
            known[name] = chosen
    return known


def reckon(r: Recorder, design: TrousersDesign) -> None:
    """Works out levels, widths, intake and fork."""
    _levels(r)
    _widths(r, design)
    _intake(r)
    _fork_and_legs(r)
    r.number("ease of the waistband", "waistband", "least of (6 mm; most of (0; ease at the waist))")
    r.number("finished waist", "waistband", "waist girth + ease of the waistband")


def _levels(r: Recorder) -> None:
    of = "levels"
    r.number("rise of the body", of, "waist height − crotch height", f"side length less leg length: {VINCENT}")
    r.number("fork line", of, "−(rise of the body + ease of the rise)")
    r.number("hip line", of, "most of (−waist to hip; fork line + 45 mm)")
    r.number("thigh line", of, "fork line − 30 mm")
    r.number("knee line", of, "−(waist to knee − 25 mm)", "common practice, no source: raised a little for the line")
    r.number("hem line", of, "−(waist height − hem above the floor)")


def _widths(r: Recorder, design: TrousersDesign) -> None:
    of = "widths"
    fullness = {0: "0", 1: "28 mm", 2: "44 mm"}.get(design.pleats, "0")
    r.number("fullness of the pleats", "trousers-front", fullness)
    r.number("half hip", of, "(hip girth + ease at the hip) / 2")
    r.number("half waist", of, "(waist girth + ease at the waist) / 2")
    r.number("front hip", "trousers-front", "half hip / 2 − 10 mm + fullness of the pleats")
    r.number("back hip", "trousers-back", "half hip / 2 + 10 mm")
    knee = "chosen knee width" if design.knee_width is not None else "most of (hip girth × 0.49; knee girth + 80 mm)"
    hem = "chosen hem width" if design.hem_width is not None else "knee width − 36 mm"
    r.number("knee width", "leg", knee, "knee near half the seat, bottom an inch less: Vincent's sample measures")
    r.number("hem width", "leg", hem, "knee near half the seat, bottom an inch less: Vincent's sample measures")
    for level in ("knee", "hem"):
        r.number(f"front {level}", "trousers-front", f"{level} width / 4 − 10 mm")
        r.number(f"back {level}", "trousers-back", f"{level} width / 4 + 10 mm")
    r.number("hem's angle", "leg", "angle with tangent (slant of the hem × 8 / hem width)")


def _intake(r: Recorder) -> None:
    of = "intake"
    r.number("intake", of, "half hip − half waist")
    r.number("lean of the centre front", "trousers-front", "most of (0; least of (10 mm; intake × 0.06))")
    r.number("drop of the centre front", "trousers-front", "5 mm")
    r.number(
        "seat's lean",
        "trousers-back",
        "most of (0.12; least of (0.2; 0.1 + intake × 0.1 / (−hip line)))",
        "common practice, no source: from one in eight on a straight figure to one in five over a full seat",
    )
    r.number("seat angle", "trousers-back", "angle with tangent (seat's lean)")
    r.number("front dart wanted", "trousers-front", "least of (20 mm; intake × 0.11)")
    r.number("back darts wanted", "trousers-back", "least of (56 mm; intake × 0.18)")
    if r["number of pleats"]:
        r.number("front folds", "trousers-front", "fullness of the pleats + most of (0; front dart wanted)")
    else:
        _dart(r, "front folds", "front dart wanted", "trousers-front")
    _dart(r, "back darts", "back darts wanted", "trousers-back")
    r.number(
        "intake of a side seam",
        of,
        "(intake + fullness of the pleats − lean of the centre front − front folds"
        " − back darts − seat's lean × (−hip line)) / 2",
    )
    r.number("rise at the side", of, "most of (4 mm; least of (20 mm; 9 mm + intake of a side seam × 0.2))")
    r.number("hip to centre back waist", "trousers-back", "−hip line + 6 mm")
    r.number(
        "front waist wanted",
        "trousers-front",
        "front hip − lean of the centre front − intake of a side seam − front folds",
    )
    r.number("front dart length", "trousers-front", "least of (100 mm; most of (60 mm; −hip line × 0.45))")
    r.number("back dart length", "trousers-back", "least of (135 mm; most of (80 mm; −hip line × 0.6))")


def _dart(r: Recorder, name: str, wanted: str, piece: str) -> None:
    is_worth = r[wanted] >= LEAST_DART
    source = "common practice, no source" if is_worth else "common practice, no source: too small to be worth sewing"
    r.number(name, piece, wanted if is_worth else "0", source)


def _fork_and_legs(r: Recorder) -> None:
    of = "fork"
    r.number("narrowest fork", of, "hip girth / 20 + hip girth / 10", MEMORY)
    r.number("widest fork", of, "hip girth / 16 + hip girth / 8", MEMORY)
    r.number("thigh wanted", of, "thigh girth + ease wanted at the thigh + fullness of the pleats")
    r.number(
        "stretch of the inseam", of, "6 mm", "common practice, no source: the iron stretches the back to the front"
    )
    r.number(
        "rise of the front curve",
        of,
        "least of (hip girth / 14; most of (hip girth / 18; −fork line − drop of the centre front − zip length"
        " − 15 mm))",
        "common practice, no source: no higher than leaves the fly the length of its zip",
    )
    r.number("rise of the seat's curve", of, "hip girth / 7")


def check(r: Recorder, design: TrousersDesign) -> None:
    """Refuses figures that contradict each other, before anything is drawn."""
    wrong: list[Finding] = []

    def hold(is_right: bool, where: str, what: str, remedy: str) -> None:
        if not is_right:
            wrong.append(Finding(Weight.REFUSED, where, what, remedy))

    again = "Measure both again."
    hold(
        150 <= r["rise of the body"] <= 380,
        "measurements.crotch_height",
        f"{r['rise of the body']:.0f} mm from waist to crotch is not a figure's.",
        "Measure waist height and crotch height again, both to the floor, barefoot.",
    )
    hold(
        r["waist to hip"] <= max(r["rise of the body"], 150.0) + 60,
        "measurements.waist_to_hip",
        f"the hip, {r['waist to hip']:.0f} mm down, lies below the crotch at {r['rise of the body']:.0f} mm.",
        "Measure waist to hip, waist height and crotch height again.",
    )
    hold(
        90 <= r["waist to hip"] <= 350,
        "measurements.waist_to_hip",
        f"{r['waist to hip']:.0f} mm from waist to hip is not a figure's.",
        "Measure from the waist tape down the side to the fullest part of the seat.",
    )
    hold(
        r["knee line"] <= r["fork line"] - 140,
        "measurements.waist_to_knee",
        "it leaves no thigh between crotch and knee.",
        "Measure waist to knee and crotch height again.",
    )
    hold(
        r["intake of a side seam"] <= 70,
        "measurements.waist_girth",
        "waist and hip differ by more than seams, darts and seat angle of trousers can shape.",
        again,
    )
    hold(
        r["intake of a side seam"] >= -70,
        "measurements.hip_girth",
        "the waist is so much wider than the hip that trousers would hang from nothing.",
        "Measure both again; the hip goes round the fullest part below the waist.",
    )
    hold(
        design.pleats in (0, 1, 2),
        "design.pleats",
        f"a front has no place for {design.pleats} pleats on each half.",
        "Choose 0, 1 or 2.",
    )
    hold(
        design.back_darts in (1, 2),
        "design.back_darts",
        f"a back has no place for {design.back_darts} darts on each half.",
        "Choose 1 or 2.",
    )
    hold(
        r["hem line"] <= r["knee line"] - 80,
        "design.hem_above_floor",
        "the hem comes too near the knee for trousers with a crease.",
        "Let the hem reach at least 8 cm below the knee.",
    )
    hold(
        r["knee width"] >= r["knee girth"] + 30,
        "design.knee_width",
        f"{r['knee width']:.0f} mm round is too narrow for a knee of {r['knee girth']:.0f} mm.",
        "Give the knee 3 cm at least, 7 to 10 in a tailored leg.",
    )
    hold(
        260 <= r["hem width"] <= 1.6 * r["knee width"],
        "design.hem_width",
        f"a hem of {r['hem width']:.0f} mm round neither lets the heel through nor hangs from such a knee.",
        "Choose 30 cm or more, and not much over half as much again as the knee.",
    )
    hold(
        0 <= r["slant of the hem"] <= 15,
        "design.hem_slant",
        f"a hem can't be turned up over a slant of {r['slant of the hem']:.0f} mm.",
        "Choose 15 mm or less; none for a turn-up.",
    )
    hold(
        r["ease at the hip"] >= 0 and r["ease at the waist"] >= 0,
        "design.ease_hip",
        "woven trousers can't be smaller than the body.",
        "Give waist and hip some ease.",
    )
    hold(
        0 <= r["ease of the rise"] <= 60,
        "design.ease_rise",
        f"a fork hung {r['ease of the rise']:.0f} mm below the crotch can't be walked in.",
        "Choose 10 to 25 mm.",
    )
    hold(
        r["zip length"] >= 90,
        "design.zip_length",
        "so short a fly doesn't let the hip through.",
        "Choose 15 to 19 cm.",
    )
    if wrong:
        raise Refusal(wrong)


def check_legs(r: Recorder) -> None:
    """Refuses legs that the thigh can't get into, or that widen downwards from it."""
    wrong: list[Finding] = []
    if r["ease at the thigh"] < 10:
        wrong.append(
            Finding(
                Weight.REFUSED,
                "measurements.thigh_girth",
                f"the widest fork for this hip leaves {r['ease at the thigh']:.0f} mm of ease at the thigh.",
                "Measure thigh and hip again; if both are right, choose pleats or more ease at the hip.",
            )
        )
    if r["knee width"] > r["front thigh"] + r["back thigh"] + 40:
        wrong.append(
            Finding(
                Weight.REFUSED,
                "design.knee_width",
                f"a knee of {r['knee width']:.0f} mm round is wider than the thigh.",
                "Choose less.",
            )
        )
    if wrong:
        raise Refusal(wrong)


__all__ = ["check", "check_legs", "known_figures", "reckon"]
