"""How many repeats are measured at once on the cloth before it is cut."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from settwright.workbook.sections import repeats_to_measure


@given(st.floats(1.0, 4000.0), st.floats(500.0, 12000.0))
def test_three_measures_lie_side_by_side_on_the_cloth_unless_each_is_a_single_repeat(
    repeat: float, room: float
) -> None:
    count = repeats_to_measure(repeat, room)
    assert 1 <= count <= 5
    assert count == 1 or 3 * count * repeat <= room
    assert count == 5 or 3 * (count + 1) * repeat > room
