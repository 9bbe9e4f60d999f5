"""Which bar leads the eye and which one recedes: a suggestion that stands until the person names one.

A bar leads by standing out from what surrounds it and by being broad, so its score is perceptual contrast (CIEDE2000)
against the local mean, times width. A colour that fills more than half of the repeat is the ground and doesn't lead.
The receding bar is the broad one that stands out least. No source is known for either figure; the person's word is
final.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from settwright.cloth.cloth import Bar, Cloth, Sequence
from settwright.cloth.colour import difference, lab_of, mean_colour, mixed_colour

SURROUNDINGS = 0.5  # the local mean is taken over this part of a repeat, centred on the bar
GROUND = 0.5  # a colour with a larger share of the repeat is the ground


@dataclass(frozen=True)
class Dominance:
    """The leading and the receding bar of one direction; None where it has only one colour."""

    dominant: Bar | None
    recessive: Bar | None
    scores: tuple[tuple[str, float], ...]  # (bar, ΔE against its surroundings × mm)
    is_named: bool  # True: the person named the dominant bar


@lru_cache(maxsize=64)
def warp_dominance(cloth: Cloth) -> Dominance:
    """Returns the leading and the receding upright bar."""
    return _dominance(cloth, cloth.warp, _seen(cloth, cloth.warp, cloth.weft, True), cloth.dominant_warp)


@lru_cache(maxsize=64)
def weft_dominance(cloth: Cloth) -> Dominance:
    """Returns the leading and the receding level bar."""
    return _dominance(cloth, cloth.weft, _seen(cloth, cloth.weft, cloth.warp, False), cloth.dominant_weft)


def _seen(cloth: Cloth, sequence: Sequence, other: Sequence, is_warp: bool) -> tuple[str, ...]:
    """Returns each bar's colour as it looks on the whole: mixed with the mean of the other direction."""
    shades = dict(cloth.colours)
    mean = mean_colour(tuple(shades[bar.colour] for bar in other.bars), tuple(bar.width for bar in other.bars))
    return tuple(
        mixed_colour(shades[bar.colour], mean, cloth.weave)
        if is_warp
        else mixed_colour(mean, shades[bar.colour], cloth.weave)
        for bar in sequence.bars
    )


def _dominance(cloth: Cloth, sequence: Sequence, seen: tuple[str, ...], named: str | None) -> Dominance:
    if len({bar.colour for bar in sequence.bars}) == 1:
        return Dominance(None, None, (), False)
    contrasts = [_contrast(sequence, seen, index) for index in range(len(sequence.bars))]
    scores = [round(c * bar.width, 3) for c, bar in zip(contrasts, sequence.bars, strict=True)]
    widths: dict[str, float] = {}
    for bar in sequence.bars:
        widths[bar.colour] = widths.get(bar.colour, 0.0) + bar.width
    leading = [
        -1.0 if widths[bar.colour] > GROUND * sequence.repeat else score
        for score, bar in zip(scores, sequence.bars, strict=True)
    ]
    suggested = sequence.bars[leading.index(max(leading))]
    chosen = next((bar for bar in sequence.bars if bar.name == named), None)
    dominant = chosen or suggested
    quiet = [
        round((max(contrasts) - c) * bar.width, 3) if bar.colour != dominant.colour else -1.0
        for c, bar in zip(contrasts, sequence.bars, strict=True)
    ]
    recessive = sequence.bars[quiet.index(max(quiet))]
    table = tuple((bar.name, score) for bar, score in zip(sequence.bars, scores, strict=True))
    return Dominance(dominant, recessive, table, chosen is not None)


def _contrast(sequence: Sequence, seen: tuple[str, ...], index: int) -> float:
    bar, start = sequence.bars[index], sequence.starts[index]
    reach = max(sequence.repeat * SURROUNDINGS, min(1.5 * bar.width, sequence.repeat)) / 2
    low, high = start + bar.width / 2 - reach, start + bar.width / 2 + reach
    widths = tuple(
        sum(
            max(0.0, min(high, begin + shift + other.width) - max(low, begin + shift))
            for shift in (-sequence.repeat, 0.0, sequence.repeat)
        )
        for other, begin in zip(sequence.bars, sequence.starts, strict=True)
    )
    labs = [lab_of(colour) for colour in seen]
    lightness, a, b = (
        sum(lab[k] * width for lab, width in zip(labs, widths, strict=True)) / sum(widths) for k in range(3)
    )
    return difference(labs[index], (lightness, a, b))
