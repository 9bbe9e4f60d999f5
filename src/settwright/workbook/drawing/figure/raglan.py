"""The raglan sleeve as it lies spread, its bars joined to the body's at the raglan seam."""

from __future__ import annotations

import numpy as np

from settwright.workbook.drawing.figure.body import Body
from settwright.workbook.drawing.figure.form import Face, Patch, View, finer_line, fitted, smooth
from settwright.workbook.drawing.plaid import Places, affine

_FINER = 6  # the edges are told at so many places from one match to the next
_SAME = 0.01  # square millimetres
_YIELDS = 90.0  # so far from raglan seam and armhole the sleeve gives way to meet the body's edge


def raglan_sleeve(body: Body, view: Face) -> Patch | None:
    """Returns one half of a half's raglan sleeve, laid flat against the raglan seam, or None where it has none.

    Near the body it is drawn on to the body's edge as that is seen, round the armhole too.
    """
    half = body.half
    front = view is View.FRONT
    sleeve = half.find("front-sleeve" if front else "back-sleeve")
    raglan = half.pairs("raglan-front" if front else "raglan-back")
    scye = half.pairs("sleeve-front" if front else "sleeve-back")
    if sleeve is None or raglan is None or scye is None:
        return None
    index = 0 if front else len(body.panels) - 1
    laid = affine(fitted(raglan[1], body.place(index, raglan[0], view), mirror=front))
    on_body, on_sleeve = (
        np.concatenate([finer_line(line, _FINER) for line in both]) for both in zip(raglan, scye, strict=True)
    )
    seen = body.is_on_this_side(index, on_body, view)
    edge = on_sleeve[seen]
    off = body.place(index, on_body[seen], view) - laid(edge)

    def place(places: Places) -> Places:
        squares = np.square(places[:, None, :] - edge[None, :, :]).sum(axis=2)
        near = 1.0 / (squares + _SAME)
        part = 1.0 - smooth(np.sqrt(squares.min(axis=1)) / _YIELDS)
        return laid(places) + (near[:, :, None] * off).sum(axis=1) * (part / near.sum(axis=1))[:, None]

    return Patch(sleeve.name, half.region(sleeve), half.seen(view, place))


__all__ = ["raglan_sleeve"]
