"""The lining's seams: those of the shell between pieces that are lined, and those along the facings.

A stop that was cut off with the facing's part of a piece is replaced by `facing`, where the lining's edge begins now.
"""

from __future__ import annotations

from settwright.makeup.inside.made import Made, has_stop, seam_of
from settwright.pattern.piece import Draft, Layer, Piece, Seam

_ALONG_FACINGS = (
    ("lining-facing", "front-facing", "inner", "front-lining"),
    ("lining-facing-lower", "front-facing-lower", "inner", "front-lining"),
    ("lining-facing-lowest", "front-facing-lowest", "inner", "front-lining"),
    ("lining-facing-below", "front-facing", "inner", "front-lower-lining"),
    ("lining-facing-below-lower", "front-facing-lower", "inner", "front-lower-lining"),
    ("lining-facing-sleeve", "front-facing", "inner", "front-sleeve-lining"),
    ("lining-neck", "back-neck-facing", "outer", "back-lining"),
    ("lining-neck-sleeve", "back-neck-facing", "outer", "back-sleeve-lining"),
)
_STOPS = ("lining-end", "waist", "second-split", "split", "bust-tuck-a", "raglan", "shoulder", "centre-back")


def lining_seams(draft: Draft, lining: Made) -> Made:
    """Returns the lining's seams, named after the shell's with `lining-` before, their ease as walked."""
    linings = {piece.follows: piece for piece in lining.pieces if piece.layer is Layer.LINING}
    seams: list[Seam] = []
    for seam in draft.seams:
        if seam.a.piece in linings and seam.b.piece in linings:
            a, b = (linings[seam.a.piece], seam.a.edge), (linings[seam.b.piece], seam.b.edge)
            stops = [_stop(a, b, stop) for stop in seam.stops]
            found = seam_of(f"lining-{seam.name}", a, b, stops, across=seam.across)
            if found:
                seams.append(found)
    shell = {piece.name: piece for piece in lining.added_to(draft).pieces}
    for name, facing, edge, piece in _ALONG_FACINGS:
        if facing in shell and piece in shell:
            seams += _along(name, (shell[facing], edge), (shell[piece], "facing"))
    return Made(seams=tuple(seams))


def _stop(a: tuple[Piece, str], b: tuple[Piece, str], stop: str) -> str:
    there = has_stop(*a, stop) and has_stop(*b, stop)
    return stop if there or not (has_stop(*a, "facing") and has_stop(*b, "facing")) else "facing"


def _along(name: str, a: tuple[Piece, str], b: tuple[Piece, str]) -> list[Seam]:
    """Returns the seam along a facing, in two where the bust's tuck parts it."""
    shared = dict.fromkeys(stop for stop in _STOPS if has_stop(*a, stop) and has_stop(*b, stop))
    both = sorted(shared, key=lambda stop: b[0].stop(b[1], stop))
    if "bust-tuck-a" in both:
        at = both.index("bust-tuck-a")
        parts = [(name, both[: at + 1]), (f"{name}-2", ["bust-tuck-b", *both[at + 1 :]])]
    else:
        parts = [(name, both)]
    return [seam for part, stops in parts if (seam := seam_of(part, a, b, stops))]
