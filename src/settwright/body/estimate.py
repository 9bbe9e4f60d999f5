"""What wasn't measured, estimated and flagged; what was measured, held against the rest of the body.

Each estimate is a straight-line rule in measures already known. Sources:

- *survey*: fitted for this table to 1,324 women of ANSUR II (Gordon et al. 2014, NATICK/TR-15/007, open data), its
  waist levels raised from the navel to the natural waist by 30 mm. Lengths go with height and girths with girths: in
  that survey bust and height correlate at 0.26 only, so a length scaled from the bust would be a guess.
- *Rosenfeld*, The Practical Designer, 1918: proportions of height.
- A textbook block and the German proportional system, from memory.

`spread` is the standard deviation of real bodies about the rule: two in three lie within it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from settwright.body.catalogue import BY_NAME, CATALOGUE, DEPARTURES, REQUIRED, Definition
from settwright.body.model import Body, Measure, Source
from settwright.body.posture import for_posture
from settwright.findings import Finding, Refusal, Weight
from settwright.units import CM, INCH, Units, format_length, in_units


@dataclass(frozen=True)
class Rule:
    """value = constant + Σ factor × measure; millimetres, radians for an angle."""

    name: str
    constant: float
    factors: tuple[tuple[str, float], ...]
    spread: float
    source: str


SURVEY = "an open survey of 1,324 women"

# In an order in which each rule needs only what stands before it or is required.
RULES: tuple[Rule, ...] = (
    Rule("height", 1301.4, (("hip_girth", 0.32),), 59.2, SURVEY),
    Rule("neck_base_girth", 105.7, (("bust_girth", 0.1352), ("height", 0.0843)), 14.0, SURVEY),
    # The survey measures to the bone's outer edge; the sleeve's seam sits about 10 mm nearer the neck.
    Rule("shoulder_length", 24.3, (("height", 0.0619),), 9.2, f"{SURVEY}, less 1 cm for the seam"),
    Rule("shoulder_slope", math.radians(20), (), math.radians(4), "a textbook block: 22° in front, 18° behind"),
    # Survey: 163 + 0.222 B; German system: B/4 + 110. Halfway, since the survey's arm creases lie lower and wider.
    Rule("across_back_width", 136.6, (("bust_girth", 0.236),), 22.7, f"{SURVEY} and a drafting handbook, halfway"),
    Rule("across_front_width", -24.0, (("across_back_width", 1.0),), 20.0, "a textbook block"),
    # German system: B/10 + 105; a textbook block: B/12 + 137 (both from memory). Halfway at bust 920 and height 1680,
    # give or take height / 16; a tenth of the bust, as the trade grades it. Vincent's B/6 + 3 in is a coat's depth, its
    # ease included: 1 to 2 cm more on a large bust.
    Rule(
        "scye_depth",
        8.4,
        (("bust_girth", 0.1), ("height", 0.0625)),
        16.0,
        "a textbook block and a proportional system, halfway",
    ),
    Rule(
        "back_waist_length",
        -104.0,
        (("height", 0.25), ("bust_girth", 0.1)),
        21.3,
        "a quarter of the height less half an inch at bust 92, Rosenfeld 1918; a tenth of the bust, as in a survey",
    ),
    Rule(
        "front_waist_length",
        -35.0,
        (("back_waist_length", 1.0), ("bust_girth", 0.075)),
        20.0,
        "common practice, no source",
    ),
    Rule("neck_point_to_bust_point", 4.1, (("bust_girth", 0.1051), ("height", 0.0938)), 20.6, SURVEY),
    Rule("bust_point_width", 0.0, (("bust_girth", 0.2),), 15.0, "common practice, a fifth of it; no source"),
    Rule("waist_to_hip", -1.8, (("height", 0.1208),), 24.0, f"{SURVEY} and an eighth of the height, halfway"),
    Rule("arm_length", -54.0, (("height", 0.3765),), 16.9, SURVEY),
    Rule("upper_arm_length", 25.7, (("arm_length", 0.5514),), 6.2, SURVEY),
    Rule("upper_arm_girth", -32.5, (("bust_girth", 0.1204), ("hip_girth", 0.2077)), 16.4, SURVEY),
    Rule("elbow_girth", 107.3, (("upper_arm_girth", 0.5342),), 9.7, SURVEY),
    Rule("wrist_girth", 31.9, (("bust_girth", 0.0395), ("height", 0.0525)), 5.7, SURVEY),
    Rule("waist_height", -152.4, (("height", 0.7136),), 21.3, SURVEY),
    Rule("waist_to_knee", 14.1, (("waist_height", 0.5417),), 12.5, SURVEY),
    # R² 0.82 and 0.89. Height adds nothing to the first (18.8 mm left), waist nothing to the second (18.9 mm left).
    Rule("crotch_height", -31.7, (("waist_height", 0.8056),), 18.9, SURVEY),
    Rule("thigh_girth", -93.2, (("hip_girth", 0.6947),), 19.0, SURVEY),
    # The survey measures the lower thigh, above the knee: its slope (19 mm left), through Heinz et al. 2003's mean
    # thigh of 57.2 and knee of 35.26 cm (260 women).
    Rule("knee_girth", 50.2, (("thigh_girth", 0.5286),), 19.0, f"{SURVEY}, brought down to the knee"),
)

# Closer rules, each for when all that it needs was measured; the first that fits is taken before those above. Fitted to
# the same survey. A height told from the hip is a guess; from the waist's height and the back it is known to an inch.
CLOSER: tuple[Rule, ...] = (
    Rule("height", 231.1, (("waist_height", 1.0739), ("back_waist_length", 0.7912)), 17.6, SURVEY),
    Rule("height", 464.2, (("waist_height", 1.1531),), 27.0, SURVEY),
    Rule("height", 685.1, (("crotch_height", 1.2068),), 34.5, SURVEY),
    Rule("height", 631.0, (("arm_length", 1.7839),), 36.8, SURVEY),
    Rule("back_waist_length", -42.9, (("height", 0.7271), ("waist_height", -0.7383)), 16.9, SURVEY),
    Rule("arm_length", -14.8, (("height", 0.0724), ("upper_arm_length", 1.3653)), 10.1, SURVEY),
    Rule("waist_height", -54.0, (("height", 0.3877), ("crotch_height", 0.5531)), 16.5, SURVEY),
)

GUESS = 45.0
"""Spread of a height, in millimetres, from which it is hardly more than a guess."""

FAR = 3.5
"""Standard deviations from the rule at which a measured figure is asked about."""


def complete(measured: Mapping[str, float], units: Units = Units.CM) -> Body:
    """Returns a body with every measure of the catalogue: measured ones as they are, the rest estimated; of the
    departures from an even figure only those that were measured, a stoop brought into the lengths (`for_posture`).

    Millimetres, `shoulder_slope` in radians; `units` only words the findings. Raises Refusal with every measure that
    is unknown, lacking though required, or impossible.
    """
    wrong = check(measured, units)
    if wrong:
        raise Refusal(wrong)
    known = {name: Measure(name, measured[name], Source.MEASURED) for name in BY_NAME if name in measured}
    findings: list[Finding] = []
    for rule in RULES:
        estimate = _estimate(_closest(rule, measured), known, units)
        if rule.name in measured:
            findings.extend(_far_from_rule(measured[rule.name], estimate, units))
        else:
            known[rule.name] = estimate
            findings.extend(_told(estimate, units))
            findings.extend(_far_apart(estimate, _estimate(rule, known, units), units))
    findings.extend(_contradictions({name: measure.value for name, measure in known.items()}, measured, units))
    named = (*CATALOGUE, *(definition for definition in DEPARTURES if definition.name in known))
    return for_posture(Body(tuple(known[definition.name] for definition in named), tuple(findings)), units)


def check(measured: Mapping[str, float], units: Units = Units.CM) -> tuple[Finding, ...]:
    """Returns a finding for each measure that makes a draft impossible; none if one can be made."""
    found: list[Finding] = []
    for name, value in measured.items():
        definition = BY_NAME.get(name)
        if definition is None:
            found.append(_refused(name, "no such measurement is known.", "docs/measurements.md lists them."))
        elif not definition.lowest <= value <= definition.highest:
            found.append(_out_of_range(definition, value, units))
    for name in REQUIRED:
        if name not in measured:
            definition = BY_NAME[name]
            found.append(
                _refused(
                    name,
                    f"the {definition.title} is missing, and nothing can stand in for it.",
                    f"Measure it: {definition.how[0].lower()}{definition.how[1:]}",
                )
            )
    wrong = {finding.where.removeprefix("measurements.") for finding in found}
    found.extend(_impossible({name: value for name, value in measured.items() if name not in wrong}, units))
    return tuple(found)


def _refused(name: str, what: str, remedy: str) -> Finding:
    return Finding(Weight.REFUSED, f"measurements.{name}", what, remedy)


def _out_of_range(definition: Definition, value: float, units: Units) -> Finding:
    written = definition.written(value, units)
    if definition.is_angle:
        limits = f"between {math.degrees(definition.lowest):.0f} and {math.degrees(definition.highest):.0f} degrees"
        return _refused(
            definition.name,
            f"{written} is no slope that a shoulder has.",
            f"Write it in degrees, {limits}; most are near 20.",
        )
    remedy = "Read the tape again."
    other, word = (INCH, "in") if units is Units.CM else (CM, "cm")
    figure = value / units.size
    for size, suffix, name in (
        (other, word, "inches" if word == "in" else "centimetres"),
        (1.0, "mm", "millimetres"),
    ):
        if definition.lowest <= figure * size <= definition.highest:
            remedy = f'Did you mean {figure:g} {name}? Then write "{figure:g} {suffix}", or correct `units`.'
            break
    low, high = (format_length(limit, units) for limit in (definition.lowest, definition.highest))
    return _refused(
        definition.name,
        f"{figure:g} would make the {definition.title} {written}; no adult body has it (from {low} to {high} do).",
        remedy,
    )


def _impossible(measured: Mapping[str, float], units: Units) -> Iterator[Finding]:
    """Yields a finding for each pair of measured figures that no body can have together."""

    def longer(part: str, whole: str, why: str) -> Iterator[Finding]:
        if part in measured and whole in measured and measured[part] >= measured[whole]:
            a, b = BY_NAME[part], BY_NAME[whole]
            yield _refused(
                part,
                f"the {a.title} ({a.written(measured[part], units)}) is no less than the {b.title} "
                f"({b.written(measured[whole], units)}), but {why}.",
                "Measure both again, or leave the doubtful one out and it will be estimated.",
            )

    yield from longer("upper_arm_length", "arm_length", "the upper arm is part of the arm")
    yield from longer("scye_depth", "back_waist_length", "the armpit lies above the waist")
    yield from longer("neck_point_to_bust_point", "front_waist_length", "the bust point lies above the waist")
    yield from longer("waist_to_hip", "waist_to_knee", "the hip lies above the knee")
    yield from longer("waist_to_knee", "waist_height", "the knee lies above the floor")
    yield from longer("crotch_height", "waist_height", "the crotch lies below the waist")
    yield from longer("thigh_girth", "hip_girth", "one thigh is part of the seat")
    yield from longer("knee_girth", "thigh_girth", "a knee is thinner than its thigh")
    yield from longer("waist_height", "height", "the waist lies below the crown")
    yield from longer("wrist_girth", "upper_arm_girth", "a wrist is thinner than its upper arm")
    yield from longer("bust_point_width", "across_front_width", "the bust points lie between the arms")
    if {"across_back_width", "across_front_width", "bust_girth"} <= measured.keys():
        across = measured["across_back_width"] + measured["across_front_width"]
        if across >= measured["bust_girth"]:
            yield _refused(
                "across_back_width",
                f"across back and across front together ({format_length(across, units)}) are no less than the whole "
                f"bust girth ({format_length(measured['bust_girth'], units)}), which leaves no room for the arms.",
                "Measure both across the body from arm crease to arm crease, not round it.",
            )
    for right, left in (("low_shoulder_right", "low_shoulder_left"), ("full_hip_right", "full_hip_left")):
        if measured.get(right) and measured.get(left):
            a, b = BY_NAME[right], BY_NAME[left]
            yield _refused(
                right,
                f"a {a.title} ({a.written(measured[right], units)}) and a {b.title} "
                f"({b.written(measured[left], units)}) can't both be true: each tells how far it differs from the "
                "other side.",
                "Keep one of the two, with the difference between the sides.",
            )
    if {"waist_girth", "hip_girth"} <= measured.keys() and measured["hip_girth"] < 0.7 * measured["waist_girth"]:
        yield _refused(
            "hip_girth",
            f"a hip of {format_length(measured['hip_girth'], units)} below a waist of "
            f"{format_length(measured['waist_girth'], units)} is no body that stands.",
            "Measure both again; the hip goes round the fullest part of the seat.",
        )
    if {"bust_girth", "waist_girth"} <= measured.keys() and measured["waist_girth"] < 0.48 * measured["bust_girth"]:
        yield _refused(
            "waist_girth",
            f"a waist of {format_length(measured['waist_girth'], units)} is less than half the bust of "
            f"{format_length(measured['bust_girth'], units)}.",
            "Measure both again, over the same foundation.",
        )


def _closest(rule: Rule, measured: Mapping[str, float]) -> Rule:
    """Returns the closer rule for the same measure of which all is measured, or the rule itself."""
    closer = (other for other in CLOSER if other.name == rule.name)
    return next((other for other in closer if all(name in measured for name, _ in other.factors)), rule)


def _estimate(rule: Rule, known: Mapping[str, Measure], units: Units) -> Measure:
    value = rule.constant + sum(factor * known[name].value for name, factor in rule.factors)
    spread = math.hypot(rule.spread, *(factor * known[name].spread for name, factor in rule.factors))
    names = " and ".join(BY_NAME[name].title for name, _ in rule.factors)
    source = in_units(rule.source, units)
    how = f"from {names} by {source}" if names else f"as in {source}"
    # Rounded, so that what follows doesn't hang on a processor's last bit.
    digits = 4 if BY_NAME[rule.name].is_angle else 1
    return Measure(rule.name, round(value, digits), Source.ESTIMATED, how, round(spread, 4))


def _told(estimate: Measure, units: Units) -> Iterator[Finding]:
    definition = BY_NAME[estimate.name]
    value, spread = definition.written(estimate.value, units), definition.written(estimate.spread, units)
    yield Finding(
        Weight.ESTIMATED,
        f"measurements.{estimate.name}",
        f"not measured; {value} was taken, {estimate.how}. Two bodies in three lie within {spread} of it.",
        f"Good for a toile; then measure: {definition.how[0].lower()}{definition.how[1:]}",
    )
    if estimate.name == "height" and estimate.spread > GUESS:
        yield Finding(
            Weight.CAUTION,
            "measurements.height",
            f"the height isn't measured; {value} is hardly more than a guess, and every estimated length hangs on it.",
            "Cut a toile only, until the height is known.",
        )


def _far_from_rule(value: float, expected: Measure, units: Units) -> Iterator[Finding]:
    definition = BY_NAME[expected.name]
    if abs(value - expected.value) > FAR * expected.spread:
        more = "more" if value > expected.value else "less"
        yield Finding(
            Weight.CAUTION,
            f"measurements.{expected.name}",
            f"{definition.written(value, units)} is much {more} than such a body has as a rule (about "
            f"{definition.written(expected.value, units)}, {expected.how}).",
            "It was taken as measured; read the tape once more before cutting.",
        )


def _far_apart(closer: Measure, plain: Measure, units: Units) -> Iterator[Finding]:
    """Yields a caution where what was measured tells two different figures of what wasn't."""
    if abs(closer.value - plain.value) > FAR * plain.spread:
        definition = BY_NAME[closer.name]
        yield Finding(
            Weight.CAUTION,
            f"measurements.{closer.name}",
            f"the figures that it was estimated from don't belong to one body: {closer.how} it is "
            f"{definition.written(closer.value, units)}, {plain.how} {definition.written(plain.value, units)}.",
            "Measure it, and read those once more before cutting.",
        )


def _contradictions(body: Mapping[str, float], measured: Mapping[str, float], units: Units) -> Iterator[Finding]:
    """Yields a caution for each relation between figures that is possible but rarely true."""

    def caution(name: str, *others: str, when: bool, what: str, remedy: str) -> Iterator[Finding]:
        if when and any(n in measured for n in (name, *others)):
            yield Finding(Weight.CAUTION, f"measurements.{name}", what, remedy)

    again = "Measure both again."
    yield from caution(
        "hip_girth",
        "waist_girth",
        when=body["hip_girth"] <= body["waist_girth"],
        what="the hip is no larger than the waist; darts and side seams have nothing to shape.",
        remedy="If the waist was taken at the navel, take it where the body bends sideways; else read both again.",
    )
    yield from caution(
        "waist_girth",
        "bust_girth",
        when=body["waist_girth"] >= body["bust_girth"],
        what="the waist is no smaller than the bust; a fitted jacket will hang straight.",
        remedy="If the waist was taken at the navel, take it where the body bends sideways; else read both again.",
    )
    yield from caution(
        "front_waist_length",
        "back_waist_length",
        when=not -10 <= body["front_waist_length"] - body["back_waist_length"] <= 110,
        what="front and back waist length don't belong to one body: the front is mostly longer, by "
        f"{format_length(20, units)} to {format_length(60, units)}.",
        remedy="Both end at the same waist tape; the front begins at the neck point, the back at the nape bone.",
    )
    to_waist = body["front_waist_length"] - body["neck_point_to_bust_point"]
    yield from caution(
        "neck_point_to_bust_point",
        "front_waist_length",
        when=not 80 <= to_waist <= 270,
        what=f"the bust point would lie {format_length(to_waist, units)} above the waist; mostly it is "
        f"{format_length(130, units)} to {format_length(220, units)}.",
        remedy="Both begin at the neck point, where neck and shoulder meet.",
    )
    yield from caution(
        "scye_depth",
        "back_waist_length",
        when=not 0.4 <= body["scye_depth"] / body["back_waist_length"] <= 0.68,
        what="the scye depth is mostly about half the back waist length, and here it isn't.",
        remedy=again,
    )
    half_shoulders = body["shoulder_length"] * math.cos(body["shoulder_slope"]) + body["neck_base_girth"] / 5.5
    yield from caution(
        "across_back_width",
        "shoulder_length",
        when=not -25 <= half_shoulders - body["across_back_width"] / 2 <= 45,
        what="shoulder length and across back width don't belong together: the armhole would run "
        + ("inwards." if half_shoulders > body["across_back_width"] / 2 else "outwards."),
        remedy=again,
    )
    yield from caution(
        "elbow_girth",
        "upper_arm_girth",
        when=body["elbow_girth"] > 1.12 * body["upper_arm_girth"],
        what="the elbow is much larger than the upper arm.",
        remedy=again,
    )
    yield from caution(
        "waist_height",
        "height",
        when=not 0.55 <= body["waist_height"] / body["height"] <= 0.68,
        what="the waist stands at an unusual part of the height (mostly about six tenths of it).",
        remedy=again,
    )
    over_crotch = body["waist_height"] - body["waist_to_hip"] - body["crotch_height"]
    yield from caution(
        "crotch_height",
        "waist_to_hip",
        when=not -40 <= over_crotch <= 140,
        what="the crotch would lie "
        + (
            f"{format_length(-over_crotch, units)} above the hip line; the fullest part of the seat is above it."
            if over_crotch < 0
            else f"{format_length(over_crotch, units)} below the hip line, far more than on most bodies."
        ),
        remedy="Measure waist height, waist to hip and inside leg again, from one waist tape and one floor.",
    )
