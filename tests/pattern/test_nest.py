"""A range of sizes: every piece grows from size to size, evenly, in every cut."""

from __future__ import annotations

import itertools

import pytest

from settwright.body import Body
from settwright.body.sizes import AMERICAN, EUROPEAN, SIZE_TABLES, Size, SizeTable, table_of
from settwright.commission.design import SkirtCut, SkirtDesign
from settwright.findings import Refusal
from settwright.geometry.tolerances import GIRTH
from settwright.pattern import Draft, LineKind, Piece
from settwright.pattern.drafts.skirt import draft_skirt
from settwright.pattern.nest import Nest, Sized, draft_range, nests_of
from settwright.units import INCH
from tools.cuts import CUTS, Cut

# Shell pieces by what they cover together: a wider arm may shift cloth from the upper to the under sleeve.
COVERING = {
    "back": ("back", "back-lower"),
    "side": ("side", "side-back", "side-front", "side-lower", "side-back-lower", "side-front-lower"),
    "front": ("front", "front-lower"),
    "sleeve": ("upper-sleeve", "under-sleeve", "sleeve", "front-sleeve", "back-sleeve"),
    "skirt": ("skirt-front", "skirt-back"),
    "top": ("top-front", "top-back"),
    "trousers": ("trousers-front", "trousers-back"),
}


def covered(sized: Sized) -> dict[str, float]:
    """Returns the area of what covers each part of the body, in mm²."""
    areas = {piece.name: piece.area for piece in sized.draft.pieces}
    found = {part: sum(areas.get(name, 0.0) for name in names) for part, names in COVERING.items()}
    return {part: area for part, area in found.items() if area}


def check_grows(sized: tuple[Sized, ...]) -> None:
    for smaller, larger in itertools.pairwise(sized):
        before, after = covered(smaller), covered(larger)
        for part in before:
            assert after[part] > before[part], f"{part}, from size {smaller.name} to {larger.name}"


def extents(piece: Piece) -> tuple[float, float]:
    """Returns how wide and how long a piece is on its grain."""
    points = piece.on_grain().outline.points(0.5)
    xs, ys = [p.x for p in points], [p.y for p in points]
    return max(xs) - min(xs), max(ys) - min(ys)


def shrinking(smaller: Draft, larger: Draft, allowed: float) -> dict[tuple[str, str], float]:
    """Returns which pieces become narrower ("girth") or shorter ("length") by more than is allowed, and by how much."""
    known = {piece.name: piece for piece in larger.pieces}
    found: dict[tuple[str, str], float] = {}
    for piece in smaller.pieces:
        if piece.name in known:
            sides = zip(("girth", "length"), extents(piece), extents(known[piece.name]), strict=True)
            found |= {(piece.name, side): a - b for side, a, b in sides if a - b > allowed}
    return found


# A gusset has four sides as long as its slit: a wider one is shorter. A fly's facing is as wide as chosen, and narrower
# by a hair where the fork's curve at its foot opens.
FIXED = {("gusset", "girth"), ("fly-facing", "girth"), ("fly-facing", "length")}


def check_pieces_grow(cut: Cut, size: Size) -> None:
    """Where every measurement grows by 3 % at a time, every piece grows in girth and in length."""
    body = size.body()
    grown = [
        Body.of({m.name: m.value * (1.0 if m.name == "shoulder_slope" else factor) for m in body.measures})
        for factor in (1.0, 1.03, 1.06, 1.09)
    ]
    for smaller, larger in itertools.pairwise([cut.draft(one) for one in grown]):
        found = shrinking(smaller, larger, 0.1)
        assert found.keys() <= FIXED
        assert all(by < 1.5 for by in found.values()), found


@pytest.mark.parametrize("cut", CUTS[::5], ids=lambda cut: cut.name)
def test_every_piece_grows_where_all_measurements_grow(cut: Cut) -> None:
    if cut.name != "skirt-pleated":  # by whole repeats
        check_pieces_grow(cut, sizes_of("european", "92")[0])


@pytest.mark.slow
@pytest.mark.parametrize(("table", "size"), [("european", "80"), ("european", "110"), ("american", "16")])
@pytest.mark.parametrize("cut", [cut for cut in CUTS if cut.name != "skirt-pleated"], ids=lambda cut: cut.name)
def test_every_piece_of_every_cut_grows_where_all_measurements_grow(cut: Cut, table: str, size: str) -> None:
    check_pieces_grow(cut, sizes_of(table, size)[0])


# A kimono's lift changes from size to size, and with it its body and gusset; a pleated skirt grows by whole repeats.
FITFUL = ("sleeve-kimono", "skirt-pleated")
# Arms of one height are of one length, so what the cap rises by is taken from the sleeve below it. The under sleeve's
# top rises with the armhole by about as much: its length stays, give or take 2.5 mm from size to size.
STAYING = {("under-sleeve", "length"): 2.5}
# Cut beside the side seam, which rounds less where the hip grows less than the waist; and on pleated trousers no
# farther in than the pleat leaves room.
BESIDE_THE_SIDE = {("pocket-underlay", "width"): 2.0, ("pocket-facing", "length"): 0.6}
# As wide as was chosen, once the front is wide enough for it.
CHOSEN = ("flap", "welt", "jetting", "patch-pocket", "pocket-")


def measures(piece: Piece) -> dict[str, float]:
    """Returns how wide and how long a piece is on its grain, and how wide at each level of the body."""
    width, length = extents(piece)
    levels = {f"at the {line.name}": line.path.length for line in piece.lines if line.kind is LineKind.LEVEL}
    return {"width": width, "length": length, **levels}


def steps_of(nest: Nest) -> dict[tuple[str, str], list[float]]:
    """Returns what each measure of a piece changes by from size to size, by the piece's name and the measure."""
    sizes = [measures(piece) for _, piece in nest.pieces]
    name = nest.pieces[0][1].name
    return {
        (name, measure): [after[measure] - before[measure] for before, after in itertools.pairwise(sizes)]
        for measure in sizes[0]
    }


def check_goes_one_way(cut: Cut, table: SizeTable) -> None:
    """In girth every piece grows; in length it grows at every step or falls at every step. A tenth of a millimetre is
    the rounding of the estimates."""
    for nest in nests_of(draft_range(table.sizes, cut.draft)):
        assert len(nest.pieces) == len(table.sizes), nest.title
        for of, steps in steps_of(nest).items():
            if of in STAYING:
                assert max(abs(step) for step in steps) < STAYING[of], (of, steps)
            elif of in BESIDE_THE_SIDE:
                assert min(steps) > -BESIDE_THE_SIDE[of], (of, steps)
            elif of[1] == "length":
                assert min(steps) > -0.1 or (max(steps) < 0.1 and min(steps) > -0.6), (of, steps)
            else:
                assert min(steps) > -0.1, (of, steps)


def check_is_even(cut: Cut) -> None:
    """Where the table steps evenly, by 4 cm to 104 and by 6 from there, so does every piece: no step differs from the
    next by more than 3.5 mm."""
    sizes = EUROPEAN.sizes
    for run in (sizes[:8], sizes[7:]):
        for nest in nests_of(draft_range(run, cut.draft)):
            for of, steps in steps_of(nest).items():
                if not of[0].startswith(CHOSEN):
                    assert max(abs(b - a) for a, b in itertools.pairwise(steps)) < 3.5, (of, steps)


@pytest.mark.parametrize("table", list(SIZE_TABLES))
@pytest.mark.parametrize("cut", [cut for cut in CUTS[::6] if cut.name not in FITFUL], ids=lambda cut: cut.name)
def test_measures_go_one_way_over_a_whole_table(cut: Cut, table: str) -> None:
    check_goes_one_way(cut, SIZE_TABLES[table])


@pytest.mark.slow
@pytest.mark.parametrize("table", list(SIZE_TABLES))
@pytest.mark.parametrize("cut", [cut for cut in CUTS if cut.name not in FITFUL], ids=lambda cut: cut.name)
def test_measures_of_every_cut_go_one_way_over_a_whole_table(cut: Cut, table: str) -> None:
    check_goes_one_way(cut, SIZE_TABLES[table])


STEADY = [cut for cut in CUTS if cut.name not in (*FITFUL, "sleeve-kimono-lifted")]


@pytest.mark.parametrize("cut", STEADY[::6], ids=lambda cut: cut.name)
def test_sizes_step_evenly(cut: Cut) -> None:
    check_is_even(cut)


@pytest.mark.slow
@pytest.mark.parametrize("cut", STEADY, ids=lambda cut: cut.name)
def test_sizes_of_every_cut_step_evenly(cut: Cut) -> None:
    check_is_even(cut)


def sizes_of(table: str, *names: str) -> list[Size]:
    return [size for size in SIZE_TABLES[table].sizes if size.name in names]


@pytest.mark.parametrize("cut", CUTS[::7], ids=lambda cut: cut.name)
def test_a_cut_grows_from_size_to_size(cut: Cut) -> None:
    check_grows(draft_range(sizes_of("european", "80", "92", "104"), cut.draft))


@pytest.mark.slow
@pytest.mark.parametrize("table", list(SIZE_TABLES))
@pytest.mark.parametrize("cut", CUTS, ids=lambda cut: cut.name)
def test_every_cut_grows_over_a_whole_table(cut: Cut, table: str) -> None:
    """But for the pleated skirt, whose cloth grows by whole repeats."""
    sized = draft_range(SIZE_TABLES[table].sizes, cut.draft)
    if cut.name != "skirt-pleated":
        check_grows(sized)


def test_a_pleated_skirt_grows_at_the_hip_though_its_cloth_grows_by_repeats() -> None:
    design = SkirtDesign(cut=SkirtCut.PLEATED)
    for sized in draft_range(EUROPEAN.sizes, lambda body: draft_skirt(body, design, None)):
        told = {step.name: step.value for step in sized.draft.record if step.value is not None}
        worn = 2 * (told["middle panel, half"] + (told["folds on the half"] - 1) * told["seen of a pleat"])
        assert worn == pytest.approx(sized.body["hip_girth"] + design.ease_hip, abs=GIRTH)


def test_a_nest_holds_every_size_on_one_grain_mark() -> None:
    sized = draft_range(sizes_of("european", "80", "92", "104"), CUTS[0].draft)
    nests = nests_of(sized)
    assert [nest.pieces[0][1].name for nest in nests] == [piece.name for piece in sized[0].draft.pieces]
    for nest in nests:
        assert [size for size, _ in nest.pieces] == ["80", "92", "104"]
        assert all(piece.grain_mark.length < 1e-9 for _, piece in nest.pieces)


def test_sizes_step_as_the_tables_do() -> None:
    """EN 13402-3 (from memory): bust by 4 cm to 104, then by 6; waist by 4 to 88, then by 6; hip by 4 to 112, then 5.

    ASTM D5585-11e1, table 1: bust 36 1/4, curvy waist 28 and neck base 14 5/8 in at size 8; 46, 39 and 16 3/8 at 20.
    """
    steps = {
        name: [round(dict(b.measures)[name] - dict(a.measures)[name]) for a, b in itertools.pairwise(EUROPEAN.sizes)]
        for name in ("bust_girth", "waist_girth", "hip_girth", "height")
    }
    assert steps["bust_girth"] == [40] * 7 + [60] * 4
    assert steps["waist_girth"] == [40] * 7 + [60] * 4
    assert steps["hip_girth"] == [40] * 7 + [50] * 4
    assert steps["height"] == [0] * 11
    for name, figures in (("8", (36.25, 28, 14.625)), ("20", (46, 39, 16.375))):
        told = dict(next(size for size in AMERICAN.sizes if size.name == name).measures)
        found = (told["bust_girth"], told["waist_girth"], told["neck_base_girth"])
        assert found == pytest.approx([figure * INCH for figure in figures], abs=0.06)


def test_what_a_table_has_not_is_refused_with_what_it_has() -> None:
    with pytest.raises(Refusal, match="Choose from: european, american"):
        table_of("martian")
    with pytest.raises(Refusal, match="no size “81”"):
        EUROPEAN.between("81", None)
    with pytest.raises(Refusal, match="Name the smaller one first"):
        EUROPEAN.between("104", "80")


def test_a_size_that_cannot_be_cut_is_named() -> None:
    whale = Size("whale", (("bust_girth", 900.0), ("waist_girth", 440.0), ("hip_girth", 1200.0)))
    with pytest.raises(Refusal) as refusal:
        draft_range([*sizes_of("european", "80"), whale], CUTS[0].draft)
    assert all(finding.where.startswith("size whale, measurements.") for finding in refusal.value.findings)
