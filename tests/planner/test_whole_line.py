"""The main job end to end: both examples, awkward commissions, and bodies of the open data."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pypdfium2
import pytest
from typer.testing import CliRunner

from settwright.commands import app
from settwright.commission.reading import read_commission
from settwright.findings import Refusal, Weight
from settwright.plan.build import document_of
from settwright.plan.document import encode
from settwright.planner import derive
from settwright.verify import Report, verify
from tests.bodies import bodies

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("plaid-suit", "even-plaid-suit")
NAMED_SEAMS = ("centre-back", "side-back", "side-front", "closing", "skirt-side", "skirt-centre-back")


def planned(text: str, effort: int = 1) -> tuple[Report, dict[str, object]]:
    plan = derive(read_commission(text, "test"), effort=effort)
    document = encode(document_of(plan))
    return verify(document), json.loads(document)


@pytest.fixture(scope="module", params=NAMES)
def folder(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp(request.param)
    result = CliRunner().invoke(app, ["plan", str(EXAMPLES / f"{request.param}.toml"), "--to", str(made)])
    assert result.exit_code == 0, result.output
    return made


def test_the_command_writes_every_sheet_and_says_what_they_show(folder: Path):
    names = {path.name for path in folder.iterdir()}
    assert {"workbook.pdf", "garment.svg", "layout-shell.svg", "sheets-large.pdf", "pieces.dxf", "plan.json"} <= names
    assert ({"sheets-A4.pdf"} <= names) != ({"sheets-Letter.pdf"} <= names)
    assert not [name for name in names if name.endswith(".part")]


def test_the_plan_holds_and_its_named_seams_meet_as_well_as_geometry_allows(folder: Path):
    report = verify((folder / "plan.json").read_bytes())
    assert report.is_sound, "\n".join(str(fault) for fault in report.faults)
    named = [join for join in report.joins if join.name.split(".")[0] in NAMED_SEAMS]
    assert {join.name.split(".")[0] for join in named} == set(NAMED_SEAMS)
    for join in named:
        assert join.worst_level is not None
        assert join.worst_level <= join.floor + 1.0, join.name


def test_estimates_are_told(folder: Path):
    plan = json.loads((folder / "plan.json").read_text())
    estimated = {measure["name"] for measure in plan["body"] if measure["source"] == "estimated"}
    told = {f["where"].split(".")[-1] for f in plan["findings"] if f["weight"] == Weight.ESTIMATED}
    assert estimated <= told


def test_one_who_measures_in_inches_reads_no_other_length(folder: Path):
    plan = json.loads((folder / "plan.json").read_text())
    if not (folder / "sheets-Letter.pdf").exists():
        pytest.skip("measured in centimetres")
    read = [f"{finding['what']} {finding['remedy']}" for finding in plan["findings"]]
    for page in pypdfium2.PdfDocument(folder / "workbook.pdf"):
        read += page.get_textpage().get_text_range().splitlines()
    assert len(read) > 500
    assert not [line for line in read if re.search(r"\d ?(mm|cm)\b", line)]


def example(name: str = "plaid-suit") -> str:
    return (EXAMPLES / f"{name}.toml").read_text()


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("bust_girth = 92", "bust_girth = 9.2", "bust"),
        ("bust_girth = 92", "bust_girthh = 92", "bust_girth"),
        ("width = 150", "width = 30", "wide"),
        ('bar = "rust 1"\nat = "middle"', 'bar = "rust 9"\nat = "middle"', "rust"),
        ('piece = "back.right"', 'piece = "yoke.right"', "yoke"),
        ('stop = "blade"', 'stop = "elbow"', "elbow"),
        ("units =", "units ", "line"),
    ],
)
def test_what_can_not_be_planned_is_told_without_a_traceback_or_half_a_plan(
    old: str, new: str, says: str, tmp_path: Path
):
    text = example()
    assert old in text
    bad = tmp_path / "bad.toml"
    bad.write_text(text.replace(old, new))
    result = CliRunner().invoke(app, ["plan", str(bad), "--to", str(tmp_path / "plan")])
    assert result.exit_code == 1
    assert result.exception is None or isinstance(result.exception, SystemExit)
    assert says in result.output
    assert "Traceback" not in result.output
    assert not (tmp_path / "plan").exists()


@pytest.mark.parametrize("change", [("jacket", "skirt"), ("skirt", "jacket")])
def test_one_garment_alone_is_planned(change: tuple[str, str]):
    left_out, _ = change
    text = example()
    start = text.index(f"[{left_out}]")
    end = text.index("[skirt]") if left_out == "jacket" else text.index("[cloths.shell]")
    text = text[:start] + text[end:]
    if left_out == "jacket":
        text = text[: text.index("[[pins]]")] + "\n"
    report, _ = planned(text)
    assert report.is_sound, [str(f) for f in report.faults]


PLAIN = 'bars = ["navy 10 mm"]'
STRIPES = 'bars = ["navy 14 mm", "ivory 3 mm", "moss 20 mm"]'
CHECK = 'bars = ["navy 6 mm", "ivory 6 mm"]'
RIBS = 'bars = ["navy 4 mm", "moss 2 mm"]'
BORDER = 'bars_in = "mm"\nbars = ["rust 60", "ivory 5", "moss 20", "navy 615"]'  # woven once in every 70 cm
ALONG = 'bars_in = "mm"\nbars = ["rust 60", "ivory 5", "moss 20", "navy 1385"]'  # along one selvedge, once in the width
HEM = """
[[pins]]
piece = "skirt-back.right"
edge = "hem"
stop = "centre-back"
axis = "level"
bar = "rust 1"
at = "lower edge"
"""
CLOTHS = {
    "stripes only": (STRIPES, PLAIN, ""),
    "cross ribs": (PLAIN, RIBS, ""),
    "checks": (CHECK, CHECK, ""),
    "border across, pinned on the skirt's hem": (PLAIN, BORDER, HEM),
    "plain": (PLAIN, PLAIN, ""),
}


def in_cloth(warp: str, weft: str, pin: str = "") -> str:
    """The example commission in another cloth, its own pin left out."""
    text = example()
    head, rest = text.split("[cloths.shell.warp]")
    _, tail = rest.split("[cloths.lining]")
    head = "\n".join(line for line in head.splitlines() if not line.startswith(("dominant_", "at_left_selvedge")))
    text = f"{head}\n[cloths.shell.warp]\n{warp}\n[cloths.shell.weft]\n{weft}\n[cloths.lining]{tail}"
    pins, choices = text.index("[[pins]]"), text.index("[importance]")
    return text[:pins] + pin + text[choices:]


def test_a_border_along_the_selvedge_is_refused_with_what_can_be_done():
    """It stands once in the width: no two pieces can both lie at it with their grain along the cloth."""
    with pytest.raises(Refusal) as refused:
        planned(in_cloth(ALONG, PLAIN))
    assert all("selvedge" in f.what and "let its upright bars go" in f.remedy for f in refused.value.findings)


@pytest.mark.parametrize("kind", CLOTHS)
def test_every_kind_of_cloth_is_planned_and_its_named_seams_meet(kind: str):
    warp, weft, pin = CLOTHS[kind]
    report, plan = planned(in_cloth(warp, weft, pin))
    assert report.is_sound, [str(f) for f in report.faults]
    matters = {axis: plan["cloths"][0][axis]["matters"] for axis in ("warp", "weft")}  # type: ignore[index]
    assert matters == {"warp": warp != PLAIN, "weft": weft != PLAIN}
    named = [join for join in report.joins if join.name.split(".")[0] in NAMED_SEAMS]
    # a cloth without level bars has no level drift to tell, and plain cloth nothing at all
    assert bool(named) == (kind != "plain")
    for join in named:
        assert (join.worst_level is None) == (weft == PLAIN), join.name
        if join.worst_level is not None:
            assert join.worst_level <= join.floor + 1.0, join.name
    for join in named:
        if join.name == "closing" and warp != PLAIN:
            assert join.worst_upright is not None
            assert join.worst_upright <= 1.0  # the stripe goes on over the lap


def for_body(measured: dict[str, float]) -> str:
    """The example commission with an open-data body's measurements in it, the client's own pin left out."""
    text = example()
    start, end = text.index("[measurements]"), text.index("[jacket]")
    lines = [
        f'{name} = "{value:.1f} mm"' if name != "shoulder_slope" else f"{name} = {value * 57.29577951308232:.2f}"
        for name, value in measured.items()
    ]
    text = text[:start] + "[measurements]\n" + "\n".join(lines) + "\n\n" + text[end:]
    return text[: text.index("[[pins]]")]


def plan_bodies(chosen: list[dict[str, float]]) -> list[str]:
    """Plans each; returns what went wrong, a refusal only if it names no measurement."""
    wrong: list[str] = []
    for number, measured in enumerate(chosen):
        try:
            report, _ = planned(for_body(measured), effort=1)
        except Refusal as refusal:
            wrong.append(f"{number}: refused: {refusal}")
            continue
        wrong += [f"{number}: {fault}" for fault in report.faults]
    return wrong


# Bodies: ANSUR II, women (Gordon et al. 2014, NATICK/TR-15/007), see tests/data.
def test_a_handful_of_measured_bodies_goes_through_draft_to_plan():
    everyone = bodies()
    assert plan_bodies(everyone[:: len(everyone) // 4][:4]) == []


@pytest.mark.slow
def test_a_hundred_measured_bodies_go_through_draft_to_plan():
    everyone = bodies()
    assert len(everyone) >= 100
    assert plan_bodies(everyone) == []
