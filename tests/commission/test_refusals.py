"""Every kind of fault: the message names the line and the field, and what mends it."""

from pathlib import Path

import pytest

from settwright.commission import read_commission
from settwright.commission.reading import read_as_far
from settwright.findings import Refusal, Weight
from settwright.units import Units

EXAMPLES = Path(__file__).parents[2] / "examples"
PLAID = (EXAMPLES / "plaid-suit.toml").read_text()
EVEN = (EXAMPLES / "even-plaid-suit.toml").read_text()


def refusal(text: str) -> Refusal:
    with pytest.raises(Refusal) as caught:
        read_commission(text, "suit.toml")
    for finding in caught.value.findings:
        assert finding.weight is Weight.REFUSED
        assert finding.where.startswith("suit.toml")
        assert finding.what
        assert finding.remedy, f"no remedy in: {finding}"
    return caught.value


def changed(old: str, new: str, text: str = PLAID) -> str:
    assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in the example"
    return text.replace(old, new)


def line_of(text: str, part: str) -> int:
    return next(number for number, line in enumerate(text.splitlines(), 1) if part in line)


# what is changed, into what, the field named, words of the message and of its remedy
FAULTS = [
    # fields and shapes
    ("lapel_width = 8.2", "lapel_widht = 8.2", "jacket.lapel_widht", "no field “lapel_widht”", "“lapel_width”"),
    ("bust_girth = 92", "bust_grith = 92", "measurements.bust_grith", "no measurement", "“bust_girth”"),
    ("buttons = 3", "buttons = 2.5", "jacket.buttons", "a whole number belongs", "without a comma"),
    ("buttons = 3", "buttons = 9", "jacket.buttons", "1 to 6 buttons", "1 to 6"),
    ("faces_alike = false", 'faces_alike = "no"', "cloths.shell.faces_alike", "true or false", "without quotation"),
    ("wrap = 2 ", "wrap = [2] ", "jacket.wrap", "a list stands where a length", '"38 1/2"'),
    ("wrap = 2 ", 'wrap = "two fingers" ', "jacket.wrap", "not a length", "wrap beyond centre front"),
    ("wrap = 2 ", 'wrap = "1/0" ', "jacket.wrap", "divides by nothing", "wrap"),
    ("cap_ease = 3.4", "cap_ease = 34", "jacket.cap_ease", "as ease of the sleeve's cap comes to 34.0 cm", '"34 mm"'),
    ("title = \"Plaid suit for the autumn fair\"", "title = 7", "title", "7 stands where", 'title = "…"'),
    ("[client]", "[clients]", "clients", "no field “clients”", "“client”"),
    ("[[pins]]", "[pins]", "pins", "a section stands where a list", "[[pins]]"),
    ('units = "cm" ', 'units = "furlongs" ', "units", "no unit", "cm, inches"),
    # measurements
    ("waist_girth = 74", "waist_girth = 20", "measurements.waist_girth", "20.0 cm; no adult body", '"20 in"'),
    ("bust_girth = 92", "bust_girth = 36", "measurements.bust_girth", "36 would make the bust girth", "36 inches"),
    ("hip_girth = 98", "hip_girth = 980", "measurements.hip_girth", "980", "980 mm"),
    ("hip_girth = 98", "hip_girth = -98", "measurements.hip_girth", "no adult body", "tape again"),
    ("hip_girth = 98", "#", "measurements.hip_girth", "hip girth is missing", "fullest part of the seat"),
    ("shoulder_slope = 21", "shoulder_slope = 77", "measurements.shoulder_slope", "77°", "degrees"),
    ("shoulder_slope = 21", 'shoulder_slope = "steep"', "measurements.shoulder_slope", "angle", "figure"),
    ("upper_arm_length = 34.9", "upper_arm_length = 40\narm_length = 40 #", None, "twice", "Keep one"),
    ("scye_depth = 21.4", "x = 1 #", "measurements.x", "no measurement is called “x”", "measurements.md"),
    # cloths
    ('bars = ["navy 14"', 'bars = ["navvy 14"', "cloths.shell.warp.bars, no. 1", "colour “navvy”", "“navy”"),
    ('"rust 6"', '"rust 0"', "cloths.shell.warp.bars, no. 5", "has no width", "Measure the bar"),
    ('"rust 6"', '"rust -6"', "cloths.shell.warp.bars, no. 5", "has no width", "Measure the bar"),
    ('"rust 6"', '"rust"', "cloths.shell.warp.bars, no. 5", "is not a bar", "colour and width"),
    ('"rust 6"', '"6"', "cloths.shell.warp.bars, no. 5", "is not a bar", "colour and width"),
    ('"rust 6"', '"rust 6000"', "cloths.shell.warp.bars, no. 5", "wider than", "again"),
    ('"rust 6"', "6", "cloths.shell.warp.bars, no. 5", "6 stands where", "quotation marks"),
    ("width = 150", "width = 15", "cloths.shell.width", "15 as width of the cloth comes to 15.0 cm", "15 in"),
    ("width = 150", "width = -150", "cloths.shell.width", "-150", "again"),
    ("selvedge = 1.5 ", "selvedge = 90 ", "cloths.shell.selvedge", "selvedge of the cloth", "90 mm"),
    ("price_per_metre = 68", "price_per_metre = -68", "cloths.shell.price_per_metre", "less than nothing", "0 or more"),
    ("price_per_metre = 68", 'price_per_metre = "dear"', "cloths.shell.price_per_metre", "no price", "figure"),
    ("price_per_metre = 68", "price_per_metre = 6\nprice_per_yard = 6", "cloths.shell.price_per_yard", "twice", "Keep"),
    ('weave = "twill"', 'weave = "twil"', "cloths.shell.weave", "no weave", "“twill”"),
    ('nap = "none"', 'nap = "oneway"', "cloths.shell.nap", "no way of lying", "“one-way”"),
    ('"2 %"', '"200 %"', "cloths.shell.shrinks_in_length", "200", "0 to 25"),
    ("#243049", "navy blue", "cloths.shell.colours.navy", "is no colour", "#1f2a44"),
    ('bar = "navy 1", at = "left edge"', 'bar = "navy 7", at = "left edge"', "cloths.shell.at_left_selvedge.bar",
     "no upright bar “navy 7”", "“navy 2”"),
    ('at = "left edge" }', 'at = "lower edge" }', "cloths.shell.at_left_selvedge.at", "no place in a bar", "left edge"),
    ('at = "left edge" }', "at = 9 }", "cloths.shell.at_left_selvedge.at", "place in the bar navy 1", "9 mm"),
    ('dominant_warp = "rust 1"', 'dominant_warp = "rust"', "cloths.shell.dominant_warp", "no bar “rust”", "“rust 1”"),
    ("[cloths.lining]", "[cloths.linning]", "cloths.linning", "no part of a garment", "“lining”"),
    # decisions
    ('piece = "back.right"', 'piece = "back"', "pins, no. 1, piece", "no piece is called “back”", "back.right"),
    ('piece = "back.right"', 'piece = "bakc.right"', "pins, no. 1, piece", "no piece", "“back.right”"),
    ('piece = "back.right"', 'piece = "skirt-front"', "pins, no. 1, edge", "line “centre-back”", "centre-front"),
    ('edge = "centre-back"', 'edge = "center-back"', "pins, no. 1, edge", "no edge or line", "“centre-back”"),
    ('edge = "centre-back"', 'mark = "button-1"', "pins, no. 1, mark", "has no mark", "dart-top"),
    ('edge = "centre-back"', "", "pins, no. 1", "isn't said where", "collar-edge"),
    ('stop = "blade"', 'stop = "nap"', "pins, no. 1, stop", "no stop “nap”", "“nape”"),
    ('axis = "upright"', 'axis = "up"', "pins, no. 1, axis", "no direction of bars", "upright, level"),
    ('axis = "upright"', "#", "pins, no. 1, axis", "which bars", "level"),
    ('bar = "rust 1"\n', 'bar = "rust 4"\n', "pins, no. 1, bar", "no upright bar “rust 4”", "“rust 1”"),
    ('bar = "rust 1"\n', 'bar = "navy"\n', "pins, no. 1, bar", "no upright bar “navy”", "navy 1, navy 2"),
    ('bar = "rust 1"\n', "#\n", "pins, no. 1, bar", "which bar", "rust 1"),
    ('front_laps_over = "right"', 'front_laps_over = "rigth"', "choices.front_laps_over", "no side", "“right”"),
    ('stage = "before the fitting"', 'stage = "before"', "choices.stage", "no stage of the work", "before the fitting"),
    ('flap = "always"', 'flaps = "always"', "importance.flaps", "no seam is called “flaps”", "“flap”"),
    ('flap = "always"', 'flap = "allways"', "importance.flap", "no weight of a seam", "“always”"),
    # cut that can't be
    ("collar_fall = 3.8", "collar_fall = 2.5", "jacket.collar_fall", "doesn't cover", "more than the stand"),
    ('button_diameter = "22 mm"', 'button_diameter = "45 mm"', "jacket.wrap", "too little for", "half the button"),
    ("vent_length = 18", "vent_length = 50", "skirt.vent_length", "above the hip", "Shorten"),
    # the file itself
    ("format = 1 ", "format = 2 ", "format", "newer than this program", "up to date"),
    ("format = 1 ", 'format = "one" ', "format", "is no format", "format = 1"),
    ("format = 1 ", "# ", None, "doesn't say its format", "format = 1"),
    ("bust_girth = 92", "bust_girth = 97,5", None, "can't be read", "bust_girth = 97.5"),
    ("bust_girth = 92", "bust_girth = 38 1/2", None, "can't be read", 'bust_girth = "38 1/2"'),
    ("bust_girth = 92", 'bust_girth = "92', None, "can't be read", "quotation mark"),
    ("bust_girth = 92", "bust girth = 92", None, "can't be read", "bust_girth = 92"),
    ("bust_girth = 92", "bust_girth 92", None, "can't be read", "field with its value"),
    ("bust_girth = 92", "bust_girth = 92\nbust_girth = 93", None, "twice", "Keep one"),
    ("[measurements]", "[measurements", None, "can't be read", "brackets"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "field", "what", "remedy"), FAULTS)
def test_each_fault_names_its_field_and_its_remedy(
    old: str, new: str, field: str | None, what: str, remedy: str
) -> None:
    findings = refusal(changed(old, new)).findings
    matching = [f for f in findings if what in f.what]
    assert matching, f"none says {what!r}: {[str(f) for f in findings]}"
    assert remedy in f"{matching[0].what} {matching[0].remedy}", matching[0].remedy
    if field is not None:
        assert matching[0].where.endswith(f", {field}"), matching[0].where


def test_figures_in_the_other_unit_are_one_fault() -> None:
    inches = changed("bust_girth = 92", "bust_girth = 36.25")
    for name, figure in (("waist_girth = 74", "waist_girth = 29"), ("hip_girth = 98", "hip_girth = 38.5")):
        assert name in inches
        inches = inches.replace(name, figure)
    (fault,) = refusal(inches).findings
    assert "bust girth, waist girth, hip girth" in fault.what
    assert fault.remedy == 'Write units = "inches".'


@pytest.mark.parametrize("called", ["in", "inch", "Inches", "centimeters", "CM"])
def test_a_unit_may_be_called_as_one_calls_it(called: str) -> None:
    wanted = Units.CM if called.lower().startswith("c") else Units.INCHES
    text = PLAID.replace('units = "cm"', f'units = "{called}"')
    assert text != PLAID
    found = read_as_far(text, "suit.toml")[0]
    assert found.units is wanted


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('{"format": 1, "measurements": {"bust_girth": 92}}', "a JSON file, not a commission"),
        ('{"format": "1.0", "cloths": [{"sett_origin": {"x": 0}}]}', "a plan that was worked out, not a commission"),
        ("name,value\nbust,92\n", "it is no commission"),
        ("bust 92, waist 74", "it is no commission"),
    ],
)
def test_a_file_from_elsewhere_is_told_for_what_it_is(text: str, says: str) -> None:
    with pytest.raises(Refusal, match=says) as refused:
        read_commission(text, "file")
    assert "copy an example" in refused.value.findings[0].remedy


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("waist_girth = 74", "waist_girth = 20"),
        ('bars = ["navy 14"', 'bars = ["navvy 14"'),
        ("collar_fall = 3.8", "collar_fall = 2.5"),
        ('bar = "rust 1"\n', 'bar = "rust 4"\n'),
        ('under-sleeve-side = "let go"', 'under-sleeve-side = "drop it"'),
        ("bust_girth = 92", "bust_girth = 97,5"),
    ],
)
def test_the_line_is_named(old: str, new: str) -> None:
    text = changed(old, new)
    (finding,) = refusal(text).findings
    assert f"line {line_of(text, new.strip())}" in finding.where


def test_every_fault_is_told_at_once_in_the_order_of_the_file() -> None:
    text = PLAID
    for old, new in (
        ("waist_girth = 74", "waist_girth = 20"),
        ("lapel_width = 8.2", "lapel_widht = 8.2"),
        ("width = 150", "width = 15"),
        ('"rust 6"', '"rsut 6"'),
        ('stop = "blade"', 'stop = "blad"'),
        ('flap = "always"', 'flap = "ever"'),
    ):
        text = changed(old, new, text)
    findings = refusal(text).findings
    assert [f.where.rsplit(", ", 1)[1] for f in findings] == [
        "measurements.waist_girth", "jacket.lapel_widht", "cloths.shell.width", "no. 5", "stop", "importance.flap",
    ]  # fmt: skip
    lines = [int(f.where.split("line ")[1].split(",")[0]) for f in findings]
    assert lines == sorted(lines)


def test_a_sett_that_sums_to_nothing_is_refused() -> None:
    start = PLAID.index("bars = [")
    text = PLAID[:start] + "bars = []" + PLAID[PLAID.index("\n", start) :]
    (finding,) = [f for f in refusal(text).findings if "cloths.shell.warp" in f.where]
    assert "sums to nothing" in finding.what
    assert '"navy 12", "ivory 3"' in finding.remedy


def test_millimetres_written_as_centimetres_are_asked_about() -> None:
    findings = refusal(PLAID.replace('bars_in = "mm"\n', "")).findings
    assert any('bars_in = "mm"' in f.remedy for f in findings)


def test_centimetres_in_a_commission_of_inches_are_asked_about() -> None:
    (finding,) = refusal(changed('bust_girth = "40 1/4"', "bust_girth = 102", EVEN)).findings
    assert "102 centimetres" in finding.remedy
    assert '"102 cm"' in finding.remedy


def test_threads_need_their_count() -> None:
    text = PLAID.replace('bars_in = "mm"', 'bars_in = "threads"')
    findings = refusal(text).findings
    assert all("threads_per_cm" in f.remedy for f in findings if "bars_in" in f.where)
    assert read_commission(
        text.replace('bars_in = "threads"', 'bars_in = "threads"\nthreads_per_cm = 10'), "suit.toml"
    ).cloth("shell").warp.repeat == pytest.approx(70)


def test_a_button_that_the_jacket_doesnt_have() -> None:
    text = changed('piece = "back.right"', 'piece = "front.right"')
    text = changed('edge = "centre-back"\nstop = "blade"  ', 'mark = "button-4" ', text)
    (finding,) = refusal(text).findings
    assert "no more than 3 buttons" in finding.what
    assert "button-3" in finding.remedy


@pytest.mark.parametrize(
    ("fields", "what", "remedy"),
    [
        ('seam = "side-front"', "which “side-front”", '"side-front.right" or "side-front.left"'),
        ('seam = "centre-back.left"', "no seam is called", 'seam = "centre-back"'),
        ('seam = "side-frnt.right"', "no seam is called", "side-front.right"),
        ('seam = "centre-back"\nedge = "waist"', "both the seam", "Keep `seam`"),
    ],
)
def test_a_seam_that_cannot_be_pinned(fields: str, what: str, remedy: str) -> None:
    (finding,) = refusal(f'{PLAID}\n[[pins]]\n{fields}\naxis = "level"\nbar = "rust 1"\n').findings
    assert what in finding.what
    assert remedy in finding.remedy


def test_a_seam_is_pinned_once_on_each_axis() -> None:
    pin = '\n[[pins]]\nseam = "side-front.right"\nstop = "waist"\naxis = "level"\nbar = "rust 1"\n'
    said = read_commission(PLAID + pin, "suit.toml").pins[1]
    assert (said.seam, said.stop, said.piece, said.edge) == ("side-front.right", "waist", "", None)
    (finding,) = refusal(PLAID + pin + pin).findings
    assert "side-front.right are pinned twice" in finding.what


def test_a_whole_piece_has_each_edge_twice() -> None:
    pin = '\n[[pins]]\npiece = "skirt-front"\nedge = "hem{}"\naxis = "level"\nbar = "rust 1"\n'
    (finding,) = refusal(PLAID + pin.format("")).findings
    assert "cut whole" in finding.what
    assert '"hem.right" or "hem.left"' in finding.remedy
    assert read_commission(PLAID + pin.format(".left"), "suit.toml").pins[1].edge == "hem.left"


def test_a_misspelt_measure_isnt_said_to_be_missing_as_well() -> None:
    (finding,) = refusal(changed("bust_girth = 92", "bust_grith = 92")).findings
    assert "“bust_girth”" in finding.remedy


def test_a_pin_of_a_garment_that_isnt_commissioned() -> None:
    text = PLAID[: PLAID.index("[skirt]")] + PLAID[PLAID.index("# The outer cloth.") :]
    text += '\n[[pins]]\npiece = "skirt-back.left"\nedge = "side"\naxis = "level"\nbar = "rust 1"\n'
    (finding,) = refusal(text).findings
    assert "belongs to a skirt" in finding.what
    assert "[skirt]" in finding.remedy


def test_a_piece_pinned_twice() -> None:
    pin = PLAID[PLAID.index("[[pins]]") : PLAID.index("# How much")]
    (finding,) = refusal(PLAID + "\n" + pin).findings
    assert "pinned twice" in finding.what
    assert "Keep one" in finding.remedy


def test_no_garment_is_no_commission() -> None:
    text = PLAID[: PLAID.index("# Two garments")] + PLAID[PLAID.index("# The outer cloth.") : PLAID.index("# A pin")]
    (finding,) = refusal(text).findings
    assert "no garment" in finding.what
    assert "[jacket]" in finding.remedy


def test_a_repeat_wider_than_the_cloth_and_colours_without_bars() -> None:
    wide = 'warp = ["navy 20", "rust 20"]\nweft = "navy"\n'
    start, end = PLAID.index("[cloths.shell.warp]"), PLAID.index("# A cloth of one colour")
    plain = PLAID[:start] + PLAID[end:]
    plain = plain.replace('dominant_warp = "rust 1"', "#").replace('dominant_weft = "rust 2"', "#")
    findings = refusal(changed("width = 150", wide + "width = 35", plain)).findings
    assert any("wider than the cloth" in f.what for f in findings)
    findings = refusal(plain).findings
    assert any("4 colours are named, but no bars" in f.what and "warp =" in f.remedy for f in findings)


def test_a_cloth_that_is_missing_or_has_no_colours() -> None:
    start, end = PLAID.index("[cloths.shell]"), PLAID.index("# A cloth of one colour")
    (finding,) = [f for f in refusal(PLAID[:start] + PLAID[end:]).findings if "outer cloth is missing" in f.what]
    assert "[cloths.shell]" in finding.remedy
    start = PLAID.index("colours = { navy")
    (finding,) = refusal(PLAID[:start] + PLAID[PLAID.index("\n", start) :]).findings
    assert finding.where.endswith("cloths.shell.colours")
    assert 'colours = { navy = "#1f2a44" }' in finding.remedy


def test_two_figures_that_no_body_has_together() -> None:
    (finding,) = refusal(
        changed(
            "upper_arm_length = 34.9", "upper_arm_length = 47\n#", PLAID.replace("arm_length = 58.5", "arm_length = 46")
        )
    ).findings
    assert finding.where.endswith("measurements.upper_arm_length")
    assert "the upper arm is part of the arm" in finding.what
    assert "leave the doubtful one out" in finding.remedy


def test_a_fault_needs_its_place_and_size() -> None:
    text = PLAID + '\n[[cloths.shell.faults]]\nname = "slub"\nfrom_left = 40\nfrom_end = 90\nwidth = 2\n'
    (finding,) = refusal(text).findings
    assert "length is missing" in finding.what
    (fault,) = read_commission(text + "length = 3\n", "suit.toml").cloth("shell").faults
    assert fault.outline == ((400, 900), (420, 900), (420, 930), (400, 930))


@pytest.mark.parametrize(
    "text", ["", "\x00", "format = 1", "format = 0", "[[[[", "= 1", "a" * 5000, "x = " + "[" * 3000]
)
def test_what_is_no_commission_is_refused_plainly(text: str) -> None:
    assert refusal(text).findings


def test_cautions_for_bars_that_look_like_one_and_an_end_not_told() -> None:
    text = changed('"ivory 2", "moss 6"]', '"ivory 2", "navy 6"]')
    commission = read_commission(changed("selvedge = 1.5 ", "length_in_hand = 500\nselvedge = 1.5 ", text), "suit.toml")
    cautions = {f.where: f for f in commission.findings if f.weight is Weight.CAUTION}
    assert "navy 3 and navy 1 lie side by side" in cautions["cloths.shell.warp.bars"].what
    assert "at_squared_end = " in cautions["cloths.shell.at_squared_end"].remedy


def test_room_for_pieces_cut_fittings_and_found_layouts() -> None:
    text = (
        PLAID
        + f"""
[[cut]]
piece = "front.left"
from_left = 40
from_end = "1.2 m"
turned = true

[[fittings]]
date = 2026-03-02
note = "Right shoulder down 5 mm."
corrections = {{ right_shoulder = "-5 mm" }}

[[found]]
cloth = "shell"
inputs = "sha256:{"0" * 64}"
length = "2.85 m"
placements = [{{ piece = "back.right", from_left = 30, from_end = 70 }}]
"""
    )
    commission = read_commission(text, "suit.toml")
    (cut,) = commission.cut
    assert (cut.cloth, cut.placed.x, cut.placed.y, cut.placed.turned) == ("shell", 400, 1200, True)
    (fitting,) = commission.fittings
    assert (fitting.date, fitting.corrections) == ("2026-03-02", (("right_shoulder", -5.0),))
    (found,) = commission.found
    assert (found.length, found.placements[0].piece) == (2850.0, "back.right")
    cautions = {f.where for f in commission.findings if f.weight is Weight.CAUTION}
    assert cautions == {"fittings, no. 1, corrections.right_shoulder"}  # no measurement is called so


FAULT_CORNERS = [
    ("[[40, 90], [43, 90]]", "three corners or more"),
    ("[[40, 90], [43, 90], [46, 90]]", "enclose nothing"),
    ("[[40, 90], [43], [46, 95]]", "each with two figures"),
    ('[[40, 90], [43, "wide"], [46, 95]]', "wide"),
]


@pytest.mark.parametrize(("corners", "what"), FAULT_CORNERS)
def test_a_fault_of_any_shape_encloses_something(corners: str, what: str) -> None:
    text = PLAID + f'\n[[cloths.shell.faults]]\nname = "slub"\ncorners = {corners}\n'
    assert any(what in finding.what for finding in refusal(text).findings)


def test_a_fault_has_corners_or_a_size_not_both() -> None:
    text = PLAID + "\n[[cloths.shell.faults]]\nwidth = 3\ncorners = [[40, 90], [43, 90], [41, 95]]\n"
    assert "width too" in refusal(text).findings[0].what


def test_corners_are_read_counter_clockwise() -> None:
    text = PLAID + "\n[[cloths.shell.faults]]\nmay_be_hidden = true\ncorners = [[41, 95], [43, 90], [40, 90]]\n"
    (fault,) = read_commission(text, "suit").cloth("shell").faults
    assert fault.may_be_hidden
    assert fault.outline == ((400.0, 900.0), (430.0, 900.0), (410.0, 950.0))
