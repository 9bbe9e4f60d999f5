"""Reads what a cloth gives under the iron: from a pressed swatch, or by the class of its fibre."""

from __future__ import annotations

import math
from dataclasses import replace

from settwright.cloth.give import Fibre, Give, usual
from settwright.cloth.net import shear_of
from settwright.commission.desk import Desk
from settwright.commission.document import ClothForm, SwatchForm
from settwright.commission.lines import Path
from settwright.findings import Weight

_USUAL_FIBRE = {"lining": Fibre.SILK, "interlining": Fibre.BLEND, "stay": Fibre.SILK}
_MOST = 25.0  # percent; more is a slip of the pen
_MOST_ON_BIAS = 100 * (math.sqrt(2.0) - 1)  # threads laid side by side


def read_give(desk: Desk, path: Path, form: ClothForm, name: str) -> Give:
    """Returns what a cloth gives; what the swatch doesn't say is usual for its fibre, and said to be."""
    fibre = _USUAL_FIBRE.get(name, Fibre.WOOL)
    if form.fibre is not None:
        fibre = desk.word((*path, "fibre"), form.fibre, Fibre, "class of fibre") or fibre
    elif name in ("shell", "facing"):
        desk.say(Weight.DEFAULT, (*path, "fibre"), f"not said; the cloth is taken to be {fibre}.")
    give = usual(fibre)
    swatch = form.swatch
    if swatch is None:
        return give
    path = (*path, "swatch")
    give = replace(
        give,
        shrink_warp=_part(desk, path, swatch, "shrinks_in_length", give.shrink_warp),
        shrink_weft=_part(desk, path, swatch, "shrinks_in_width", give.shrink_weft),
        stretch_warp=_part(desk, path, swatch, "stretches_in_length", give.stretch_warp),
        stretch_weft=_part(desk, path, swatch, "stretches_in_width", give.stretch_weft),
        said="from your swatch",
    )
    if swatch.bias_gives is not None:
        part = desk.number((*path, "bias_gives"), swatch.bias_gives, "give on the bias", least=0, most=_MOST_ON_BIAS)
        if part is not None:
            give = replace(give, shear=max(shear_of(1 + part / 100), math.radians(1)))
    left_out = [field for field in SwatchForm.__struct_fields__ if getattr(swatch, field) is None]
    if left_out:
        told = ", ".join(field.replace("_", " ") for field in left_out)
        desk.say(Weight.ESTIMATED, path, f"of your swatch isn't said: {told}; what is usual for {fibre} was taken.")
        give = replace(give, said=f"from your swatch, the rest usual for {fibre}")
    return give


def _part(desk: Desk, path: Path, form: SwatchForm, field: str, custom: float) -> float:
    given: float | str | None = getattr(form, field)
    if given is None:
        return custom
    value = desk.number((*path, field), given, "change in percent", least=0, most=_MOST)
    return custom if value is None else max(value / 100, 0.001)
