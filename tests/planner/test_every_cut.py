"""Every cut that can be commissioned goes from its text to a plan that the verifier finds sound, and is drawn."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from settwright.commission.reading import read_commission
from settwright.findings import Weight
from settwright.plan.build import document_of
from settwright.plan.document import encode
from settwright.plan.plan import Plan
from settwright.planner import derive
from settwright.planner.derive import body_of
from settwright.planner.files import book_files, sheet_files
from settwright.verify import verify
from settwright.workbook.drawing.garment import View, draw_garment
from settwright.workbook.drawing.pen import SvgPen
from tests.bodies import bodies
from tests.cuts import JACKETS, SKIRTS, TROUSERS

# the suit's uneven plaid with 70 mm across and 90 mm along
CLOTH = """
[cloths.shell]
width = 150
thickness = "0.9 mm"
weave = "twill"
nap = "none"
colours = { navy = "#243049", moss = "#56634a", ivory = "#e6dec8", rust = "#a4512f" }
warp = ["navy 14 mm", "moss 8 mm", "ivory 3 mm", "navy 10 mm", "rust 6 mm", "moss 21 mm", "ivory 2 mm", "moss 6 mm"]
weft = ["navy 18 mm", "rust 4 mm", "moss 16 mm", "ivory 3 mm", "navy 22 mm", "moss 10 mm", "rust 7 mm", "ivory 10 mm"]
[cloths.lining]
width = 140
colours = { plum = "#553344" }
warp = "plum"
weft = "plum"
"""
USUAL = {"height": 1680.0, "bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0}
CASES = [
    *(("jacket", name, text) for name, text in JACKETS.items()),
    *(("skirt", name, text) for name, text in SKIRTS.items()),
    *(("trousers", name, text) for name, text in TROUSERS.items()),
]
QUICK = ("princess from the armhole, shawl, split facing", "crossed over, kimono", "plain")
TOGETHER = (
    "[jacket]\nwaist_seam = true\n[trousers]\n",
    '[jacket]\n[skirt]\ncut = "pleated"\nwaist_finish = "bodice top"\n',
)


def plan_of(sections: str, measured: dict[str, float] = USUAL) -> Plan:
    lines = [
        f'{name} = "{value:.1f} mm"' if name != "shoulder_slope" else f"{name} = {math.degrees(value):.2f}"
        for name, value in measured.items()
    ]
    text = "\n".join(["format = 1", "[measurements]", *lines, sections, CLOTH])
    return derive(read_commission(text, "cut"), effort=1)


def check(plan: Plan, *, drawn: bool = True) -> None:
    report = verify(encode(document_of(plan)))
    assert report.is_sound, "\n".join(str(fault) for fault in report.faults)
    told = [f for f in plan.made_up.findings if "custom of its own" in f.what or "was meant" in f.what]
    assert not told, "\n".join(str(f) for f in told)
    assert {piece.name for piece in plan.made_up.pieces if piece.cloth in ("shell", "lining")} == {
        placement.name for cloth in plan.cloths for placement in cloth.layout.placements
    }
    for view in View if drawn else ():
        pen = SvgPen((-100, -200, 100, 100), title="figure")
        left, bottom, right, top = draw_garment(pen, plan.made_up, plan.match, plan.commission.cloths, view)
        # a figure is about as wide as a person (at 0.15 of life), sleeves spread at most
        assert -150 < left < 0 < right < 150
        assert top - bottom > 20


@pytest.mark.parametrize(
    ("garment", "name", "text"), [c for c in CASES if c[1] in QUICK], ids=lambda part: str(part)[:30]
)
def test_a_cut_goes_from_text_to_a_sound_plan(garment: str, name: str, text: str) -> None:
    check(plan_of(f"[{garment}]\n{text}\n"))


@pytest.mark.slow
@pytest.mark.parametrize(("garment", "name", "text"), CASES, ids=lambda part: str(part)[:30])
def test_every_cut_goes_from_text_to_a_sound_plan(garment: str, name: str, text: str) -> None:
    """On the usual body and, of the open survey's women (ANSUR II, tests/data), on a slight and a full one."""
    everyone = sorted(bodies(), key=lambda measured: measured["bust_girth"])
    plans = [plan_of(f"[{garment}]\n{text}\n", measured) for measured in (USUAL, everyone[10], everyone[-12])]
    for plan in plans:
        check(plan)
    assert book_files(plans[0])
    assert sheet_files(plans[0])


@pytest.mark.slow
@pytest.mark.parametrize("sections", TOGETHER)
def test_garments_worn_together_hang_bar_over_bar(sections: str) -> None:
    plan = plan_of(sections)
    check(plan)
    assert any(join.name.startswith("jacket-over-") for join in plan.match.joins)


def test_pleats_lie_on_the_bars_of_the_cloth() -> None:
    commission = read_commission(f"format = 1\n[measurements]\nbust_girth = 92\nwaist_girth = 74\nhip_girth = 98\n"
                                 f'[skirt]\ncut = "pleated"\n{CLOTH}', "cut")  # fmt: skip
    assert commission.skirt is not None
    assert commission.skirt.pleat_repeat == 70.0
    (said,) = [f for f in commission.findings if f.where == "skirt.pleat_repeat"]
    assert said.weight is Weight.DEFAULT
    assert "7.0 cm" in said.what


def test_a_stoop_that_alters_the_draft_is_told() -> None:
    told = body_of(read_commission(
        "format = 1\n[measurements]\nbust_girth = 92\nwaist_girth = 74\nhip_girth = 98\nheight = 170\n"
        f"back_stoop = 1.5\n[jacket]\n{CLOTH}", "cut"))  # fmt: skip
    assert any(f.where == "measurements.back_stoop" for f in told.findings)


def test_the_striped_example_is_planned() -> None:
    text = (Path(__file__).parents[2] / "examples" / "striped-trouser-suit.toml").read_text()
    check(derive(read_commission(text, "striped-trouser-suit.toml"), effort=1))
