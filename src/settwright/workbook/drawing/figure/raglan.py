"""The raglan sleeve as it lies spread, its bars joined to the body's at the raglan seam."""

from __future__ import annotations

from settwright.workbook.drawing.figure.body import Body
from settwright.workbook.drawing.figure.form import Face, Patch, View, fitted
from settwright.workbook.drawing.plaid import affine


def raglan_sleeve(body: Body, view: Face) -> Patch | None:
    """Returns one half of a half's raglan sleeve, laid flat against the raglan seam, or None where it has none."""
    half = body.half
    front = view is View.FRONT
    sleeve = half.find("front-sleeve" if front else "back-sleeve")
    pairs = half.pairs("raglan-front" if front else "raglan-back")
    if sleeve is None or pairs is None:
        return None
    on_body, on_sleeve = pairs
    index = 0 if front else len(body.panels) - 1
    onto = affine(fitted(on_sleeve, body.place(index, on_body, view), mirror=front))
    return Patch(sleeve.name, half.region(sleeve), half.seen(view, onto))


__all__ = ["raglan_sleeve"]
