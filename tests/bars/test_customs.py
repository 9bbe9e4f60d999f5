"""Every seam that a commission may speak of has its custom, or is known to be hidden."""

from __future__ import annotations

import pytest

from settwright.bars.customs import custom_of
from settwright.bars.joins import base_name, joins_of
from settwright.bars.match import match, prepare
from settwright.bars.model import Importance
from settwright.cloth import Cloth
from settwright.commission.names import joins
from tests.bars.toys import jacket
from tests.cloth.toy_setts import EVEN, cloth

# inside, or where bars cross at an angle: nothing to match (common practice, no source)
HIDDEN = (
    "facing",
    "fly-",
    "gusset",
    "pocket-",
    "stand-collar",
    "neck",
    "gorge",
    "top-shoulder",
    "under-collar",
    "collar-",
)


def test_every_seam_has_its_custom() -> None:
    for name in joins():
        base = base_name(name).replace("#", "1")
        custom = custom_of(base)
        assert custom is not None or base.startswith(HIDDEN), base


@pytest.mark.parametrize(
    "name", ["buttonhole-patch", "buttonhole-patch-2", "buttonhole-patch-lower-2", "covered-button-3"]
)
def test_patches_and_covered_buttons_hide_in_the_front_whatever_they_are_called(name: str) -> None:
    custom = custom_of(name)
    assert custom is not None
    assert custom.importance is Importance.IF_POSSIBLE


PLAIN = (("navy", 10.0),)
STRIPES, RIBS = cloth(EVEN, PLAIN), cloth(PLAIN, EVEN)
CHECKS = cloth((("navy", 12.0), ("cream", 12.0)), (("navy", 12.0), ("cream", 12.0)))
BORDER = cloth(PLAIN, (("navy", 1400.0), ("cream", 20.0), ("rust", 80.0)))


@pytest.mark.parametrize(
    ("shell", "upright", "level"),
    [(STRIPES, True, False), (RIBS, False, True), (CHECKS, True, True), (BORDER, False, True)],
    ids=["stripes only", "cross ribs", "checks", "border"],
)
def test_each_kind_of_cloth_is_matched_where_it_has_bars(shell: Cloth, upright: bool, level: bool) -> None:
    found = match(prepare(jacket(), shell))
    drifts = {drift.join: drift for drift in found.drifts}
    for name in ("centre-back", "side-back.right", "side-front.left", "closing"):
        # the toy's seams are straight: level bars can meet (geometry); upright ones go round and needn't close
        assert (drifts[name].level is not None) is level
        assert (drifts[name].upright is not None) is upright
        assert drifts[name].worst_level <= 1.0
        if upright and name in ("centre-back", "closing"):
            assert drifts[name].worst_upright <= 1.0
    for phase in found.phases:
        assert phase.free_u is not upright
        assert phase.free_v is not level


def test_on_plain_cloth_nothing_is_matched() -> None:
    plain = cloth(PLAIN, PLAIN)
    assert joins_of(jacket(), plain) == ()
    found = match(prepare(jacket(), plain))
    assert found.drifts == ()
    assert all(phase.free_u and phase.free_v for phase in found.phases)


def test_a_border_keeps_one_height_all_round() -> None:
    found = match(prepare(jacket(), BORDER))
    heights = {round(phase.v, 1) for phase in found.phases}
    assert max(heights) - min(heights) <= 1.0
    assert all(phase.orientation.t == 1 for phase in found.phases)
