"""Ways of laying the two halves of a garment where the sett reads differently from left and right.

Outlines always mirror, bars only where the sett does. What can be done about it is offered here with what it costs:
going round the body in one direction; turning the left half end for end; laying the left half on the other face.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from settwright.bars.joins import base_name
from settwright.bars.model import Importance, Match, Mode, Orientation
from settwright.cloth import Cloth, Nap
from settwright.commission.model import Uneven
from settwright.geometry.tolerances import HAND
from settwright.makeup.model import CutPiece, Hand

LEFT_HALF = {Uneven.TURN: Orientation(t=-1), Uneven.OTHER_FACE: Orientation(f=-1)}


@dataclass(frozen=True)
class Way:
    """One way of laying the halves, and what comes of it."""

    way: Uneven
    is_possible: bool
    why: str  # what makes it impossible, or what to mind
    match: Match | None  # None where it isn't possible
    fronts_mirror: bool = False
    misses: int = 0  # joins that must always meet and miss by more than a millimetre over what shape takes, or can't
    is_chosen: bool = False
    lays_in: float | None = None  # mm of cloth by a short search; None where it wasn't laid or can't be


def orientations(pieces: Sequence[CutPiece], cloth: Cloth, way: Uneven) -> dict[str, Orientation]:
    """Returns how each matched piece lies that doesn't lie upright and face up; none where the way has no sense."""
    left = LEFT_HALF.get(way)
    if left is None or hindrance(cloth, way):
        return {}
    return {p.name: left for p in pieces if p.hand is Hand.LEFT and p.is_matched and p.cloth == cloth.name}


def hindrance(cloth: Cloth, way: Uneven) -> str:
    """Returns why this way can't be gone with this cloth; empty where it can."""
    if way is Uneven.ROUND:
        return ""
    against = (
        (not cloth.has_upright_bars, "there are no upright bars to mirror"),
        (cloth.warp.is_even, "the upright bars mirror by themselves: the sett is even"),
        (cloth.nap is not Nap.NONE, "the nap runs one way"),
        (
            way is Uneven.TURN and cloth.has_level_bars and not cloth.weft.is_even,
            "the level bars are uneven and would stand upside down",
        ),
        (way is Uneven.OTHER_FACE and not cloth.faces_alike, "the two faces of the cloth aren't alike"),
    )
    return next((why for is_so, why in against if is_so), "")


def to_mind(cloth: Cloth, way: Uneven) -> str:
    """Returns what the tailor should mind on a way that can be gone."""
    if way is Uneven.ROUND:
        uneven = cloth.has_upright_bars and not cloth.warp.is_even
        return "right and left show the bars in one direction and don't mirror" if uneven else ""
    if way is Uneven.TURN:
        return "no nap, no one-way motif: brush the cloth and look at it against the light first"
    if cloth.weave == "twill":
        return "the twill's line runs the other way on the other face"
    return "compare both faces in daylight first"


def ways(
    cloth: Cloth,
    chosen: Uneven,
    now: Match,
    matched_as: Callable[[Uneven], Match],
    laid: Callable[[Match], float | None] = lambda _: None,
) -> tuple[Way, ...]:
    """Returns the three ways, those that can be gone with their match and the cloth that they take.

    `now` is the match of the chosen way, `matched_as` finds another's; `laid` tells how long a match lays, in mm.

    An even sett mirrors by itself: then there is nothing to choose and nothing is returned.
    """
    if not cloth.has_upright_bars or cloth.warp.is_even:
        return ()
    found: list[Way] = []
    for way in Uneven:
        why = hindrance(cloth, way)
        if why:
            found.append(Way(way, False, why, None))
            continue
        match = now if way is chosen else matched_as(way)
        found.append(
            Way(
                way,
                True,
                to_mind(cloth, way),
                match,
                _fronts_mirror(match),
                _misses(match, cloth),
                way is chosen,
                laid(match),
            )
        )
    return tuple(found)


def _fronts_mirror(match: Match) -> bool:
    drifts = {drift.join: drift for drift in match.drifts}
    fronts = [join for join in match.joins if join.kind == "pair" and base_name(join.a) in ("front", "skirt-front")]
    told = [drifts[join.name] for join in fronts]
    return bool(told) and all(drift.upright is not None and drift.worst_upright <= HAND for drift in told)


def _misses(match: Match, cloth: Cloth) -> int:
    drifts = {drift.join: drift for drift in match.drifts}
    count = 0
    for join in match.joins:
        drift = drifts[join.name]
        if join.importance is not Importance.ALWAYS or join.kind == "pair":
            continue
        level_misses = drift.level is not None and drift.worst_level - drift.floor > HAND + 1e-6
        level_lost = drift.level is None and join.level is not Mode.NONE and cloth.has_level_bars
        upright_lost = drift.upright is None and join.upright is not Mode.NONE and cloth.has_upright_bars
        count += level_misses or level_lost or upright_lost
    return count


__all__ = ["LEFT_HALF", "Way", "hindrance", "orientations", "to_mind", "ways"]
