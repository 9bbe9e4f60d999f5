from settwright.makeup import Finish
from settwright.makeup.allowances import CUSTOMS, Custom

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
