import pytest

from settwright.body.estimate import complete
from settwright.commission.design import SkirtDesign, WaistFinish
from settwright.commission.inside import Inside
from settwright.makeup import Finish
from settwright.makeup.allowances import CUSTOMS, Custom, allowances_of, plain_name
from settwright.makeup.inside import with_inside
from settwright.pattern import Layer
from settwright.pattern.drafts.skirt import draft_skirt

INCH = 25.4


def test_customs_lie_in_the_trade_s_ranges():
    # ranges: common practice, no source; hems 50–75 then 40–50, seams 25–40 then about 10 to 25
    for piece, customs in CUSTOMS.items():
        for edge, custom in customs.items():
            assert custom.after <= custom.before, (piece, edge)
            if custom.finish is Finish.HEM:
                assert 50 <= custom.before <= 75
                assert 40 <= custom.after <= 50
            else:
                assert 25 <= custom.before <= 40
                assert 10 <= custom.after <= 25


def test_customs_leave_a_handbook_s_inlays():
    # Vincent's Systems, Cutting from the Cloth: inlays of 3/4 in at the shoulder and the top sleeve's hindarm, 1/2 in
    # at the scye, sleeve turn-up 1 1/2 in; The Cutting of Ladies' Garments: skirt hem 3 in (to the nearest 2 mm here)
    def after(piece: str, edge: str) -> float:
        return CUSTOMS[piece][edge].after

    assert after("front", "shoulder") >= 0.75 * INCH
    assert after("back", "shoulder") >= 0.75 * INCH
    assert after("upper-sleeve", "hindarm") >= 0.75 * INCH
    assert min(after(piece, "armhole") for piece in ("front", "side", "back")) >= 0.5 * INCH
    assert after("upper-sleeve", "hem") >= 1.5 * INCH
    assert abs(CUSTOMS["skirt-front"]["hem"].before - 3 * INCH) < 2


def test_both_sides_of_a_seam_have_one_custom():
    def custom(piece: str, edge: str) -> Custom:
        return CUSTOMS[piece][edge]

    for a, b, edge in (
        ("back", "side", "side-back"),
        ("front", "side", "side-front"),
        ("front", "back", "shoulder"),
        ("upper-sleeve", "under-sleeve", "forearm"),
        ("upper-sleeve", "under-sleeve", "hindarm"),
        ("upper-sleeve", "under-sleeve", "hem"),
        ("skirt-front", "skirt-back", "side"),
        ("front", "front-facing", "lapel"),
        ("front", "front-facing", "hem"),
        ("flap", "flap-lining", "bottom"),
        ("under-collar", "top-collar", "outer"),
        ("back", "front", "side"),
        ("back", "side-back", "princess-back"),
        ("front", "side-front", "princess-front"),
        ("front", "front-lower", "waist"),
        ("front", "front-sleeve", "raglan"),
        ("front-sleeve", "back-sleeve", "overarm"),
        ("stand-collar", "stand-collar-facing", "outer"),
        ("top-front", "top-back", "side"),
        ("trousers-front", "trousers-back", "side"),
        ("trousers-front", "trousers-back", "inseam"),
    ):
        assert custom(a, edge) is custom(b, edge)


@pytest.mark.parametrize("let_out", [10.0, 25.0, 45.0])
def test_a_bodice_top_keeps_its_reserve_in_every_seam(let_out: float):
    design = SkirtDesign(waist_finish=WaistFinish.BODICE_TOP, let_out=let_out)
    draft = draft_skirt(complete({"bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0}), design, None)
    for name in ("top-front", "top-back"):
        kept = {plain_name(a.edge): a for a in allowances_of(draft.piece(name))[0]}
        seams = {"side", "shoulder"} | ({"centre-back"} if name == "top-back" else set())
        assert {edge for edge in kept if kept[edge].after == let_out and kept[edge].finish is Finish.SEAM} == seams
        assert all(kept[edge].before >= let_out + 10.0 for edge in seams)
    made = with_inside(draft, Inside(), (Layer.LINING,))  # the lining is let out with it
    assert {a.after for a in allowances_of(made.piece("top-front-lining"))[0] if "side" in a.edge} == {let_out}
