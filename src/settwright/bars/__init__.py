"""Where the bars fall: the match problem, its solver and the report per seam."""

from settwright.bars.frames import drift, place_under, sense, wrap
from settwright.bars.joins import joins_of
from settwright.bars.match import Prepared, match, match_bars, prepare
from settwright.bars.model import (
    Axis,
    Cycle,
    Drift,
    Importance,
    Join,
    Match,
    Mode,
    Orientation,
    Phase,
    Pin,
    Sample,
    Wish,
)
from settwright.bars.trying import Moved, SeamChange, Tried, slide, try_pins

__all__ = [
    "Axis",
    "Cycle",
    "Drift",
    "Importance",
    "Join",
    "Match",
    "Mode",
    "Moved",
    "Orientation",
    "Phase",
    "Pin",
    "Prepared",
    "Sample",
    "SeamChange",
    "Tried",
    "Wish",
    "drift",
    "joins_of",
    "match",
    "match_bars",
    "place_under",
    "prepare",
    "sense",
    "slide",
    "try_pins",
    "wrap",
]
