"""The examples and the page that teaches to write one: all read, and say what they should."""

import math
import re
from dataclasses import fields
from enum import StrEnum
from pathlib import Path

import msgspec
import pytest

from settwright.body.catalogue import CATALOGUE
from settwright.body.estimate import complete
from settwright.cloth import Nap
from settwright.commission import Axis, Hand, Importance, Stage, document, read_commission
from settwright.commission.design import JacketDesign, JacketEase, SkirtDesign, TrousersDesign
from settwright.findings import Weight
from settwright.units import Units

ROOT = Path(__file__).parents[2]
PLAID = (ROOT / "examples" / "plaid-suit.toml").read_text()
EVEN = (ROOT / "examples" / "even-plaid-suit.toml").read_text()
PAGE = (ROOT / "docs" / "commission.md").read_text()
SMALL = re.search(r"## A small one, whole\n\n```toml\n(.*?)```", PAGE, re.DOTALL)[1]  # type: ignore[index]


def test_the_plaid_suit_is_uneven_both_ways_and_wholly_measured() -> None:
    commission = read_commission(PLAID, "plaid-suit.toml")
    shell, lining, *inside = commission.cloths
    assert [cloth.name for cloth in inside] == ["interlining", "pocketing"]
    assert not shell.warp.is_even
    assert not shell.weft.is_even
    assert (shell.warp.repeat, shell.weft.repeat) == (70.0, 90.0)
    assert shell.sett_at_left == 15.0
    assert shell.sett_at_end is None
    assert shell.price_per_metre == 68
    assert lining.is_plain
    assert lining.price_per_metre == 14.5
    assert {name for name, _ in commission.measured} == {definition.name for definition in CATALOGUE}
    assert dict(commission.measured)["shoulder_slope"] == pytest.approx(math.radians(21))
    assert commission.importance_of("flap.left") is Importance.ALWAYS
    assert commission.importance_of("under-sleeve-side.right") is Importance.LET_GO
    assert commission.importance_of("closing") is None
    (pin,) = commission.pins
    assert (pin.piece, pin.edge, pin.stop, pin.axis) == ("back.right", "centre-back", "blade", Axis.UPRIGHT)
    assert pin.place == 14 + 8 + 3 + 10 + 3
    assert commission.jacket is not None
    assert commission.jacket.length_below_waist > dict(commission.measured)["waist_to_hip"]
    assert not any(f.weight is Weight.CAUTION for f in commission.findings)
    assert complete(dict(commission.measured)).findings == ()


def test_the_even_suit_is_mirrored_napped_in_inches_and_partly_estimated() -> None:
    commission = read_commission(EVEN, "even-plaid-suit.toml")
    shell = commission.cloth("shell")
    assert commission.units is Units.INCHES
    assert shell.warp.is_even
    assert shell.weft.is_even
    assert shell.nap is Nap.ONE_WAY
    assert shell.warp.repeat == pytest.approx(2.75 * 25.4)
    assert shell.weft.repeat == pytest.approx(3.25 * 25.4)
    assert [bar.name for bar in shell.warp.bars] == [
        *("charcoal 1", "dove 1", "wine 1", "dove 2", "cream 1", "dove 3", "wine 2", "dove 4"),
    ]
    assert shell.length_in_hand == pytest.approx(5 * 914.4)
    assert shell.sett_at_end == 0.0
    assert shell.sett_at_left == pytest.approx(25.4 / 2 - 0.75 * 25.4 / 2)
    assert dict(commission.measured)["bust_girth"] == pytest.approx(40.25 * 25.4)
    body = complete(dict(commission.measured), commission.units)
    estimated = {f.where for f in body.findings if f.weight is Weight.ESTIMATED}
    assert estimated == {f"measurements.{d.name}" for d in CATALOGUE if d.name not in dict(commission.measured)}
    assert not any(f.weight is Weight.CAUTION for f in (*commission.findings, *body.findings))


def test_the_small_one_of_the_page_reads() -> None:
    commission = read_commission(SMALL, "striped-skirt.toml")
    assert commission.jacket is None
    assert commission.skirt is not None
    assert commission.skirt.length == 580
    shell = commission.cloth("shell")
    assert shell.has_upright_bars
    assert not shell.has_level_bars
    assert commission.pins[0].place == 30.0
    assert (commission.choices.front_laps_over, commission.choices.stage) == (Hand.RIGHT, Stage.BEFORE_FITTING)


def test_every_custom_taken_is_said() -> None:
    commission = read_commission(SMALL + "\n[jacket]\n", "striped-suit.toml")
    assert commission.jacket == JacketDesign()
    said = {f.where for f in commission.findings if f.weight is Weight.DEFAULT}
    for field in ("jacket.lapel_width", "jacket.ease.bust", "jacket.buttons", "jacket.front_edge", "skirt.zip_length"):
        assert field in said
    assert "skirt.length" not in said
    assert {"choices.stage", "choices.front_laps_over", "cloths.shell.nap", "cloths.shell.at_left_selvedge"} <= said


def test_the_page_names_every_field() -> None:
    for form in vars(document).values():
        if isinstance(form, type) and issubclass(form, msgspec.Struct):
            for field in form.__struct_fields__:
                assert re.search(rf"\b{field}\b", PAGE), f"docs/commission.md doesn't explain {field}"


@pytest.mark.parametrize(
    ("design", "form"),
    [
        (JacketDesign(), document.JacketForm),
        (SkirtDesign(), document.SkirtForm),
        (JacketEase(), document.EaseForm),
        (TrousersDesign(), document.TrousersForm),
    ],
)
def test_the_page_gives_every_field_with_its_words_and_customs(design: object, form: type) -> None:
    start = PAGE.index(f"### `[{'jacket' if 'Ease' in form.__name__ else form.__name__.removesuffix('Form').lower()}]`")
    section = PAGE[start : PAGE.find("\n#", start + 5)]
    for field in fields(design):  # type: ignore[arg-type]
        if field.name in document.ClosuresForm.__struct_fields__:
            continue  # written under [closures]
        assert field.name in form.__struct_fields__, f"{field.name} can't be commissioned"
        if field.name in ("ease", "moved"):
            continue  # sections of their own
        custom = getattr(design, field.name)
        rows = [row for row in section.splitlines() if row.startswith("|") and f"`{field.name}`" in row]
        assert rows, f"{field.name} isn't on the page"
        told = rows[0].rsplit("|", 2)[1]
        if isinstance(custom, StrEnum):
            assert custom.value in told or field.name == "fly_lap"
            assert all(f'"{word.value}"' in rows[0] for word in type(custom)), f"{field.name}: {rows[0]}"
        elif isinstance(custom, float):
            figures = {float(figure) for figure in re.findall(r"\d+(?:\.\d+)?", told)}
            known = {round(value, 6) for value in (custom, custom / 10, math.degrees(custom))}
            assert known & figures, f"{field.name}: {custom} mm isn't in {rows[0]}"


def test_the_page_of_measurements_says_how_each_is_taken() -> None:
    page = (ROOT / "docs" / "measurements.md").read_text()
    for definition in CATALOGUE:
        assert f"| `{definition.name}` | {definition.reference} | {definition.how} |" in page
