"""Types of the compiled functions; see kernels.py for what they do."""

import numpy as np
from numpy.typing import NDArray

Whole = NDArray[np.int64]
Light = NDArray[np.int32]
Float = NDArray[np.float64]
Depths = NDArray[np.int16]

KIND: int
COLUMNS: int
LOW: int
HIGH: int
STRIDE_X: int
STRIDE_Y: int
PLAIN_WEIGHT: int
COARSE: int

def fill_tables(
    jobs: Whole,
    bases: Float,
    corners: Float,
    parts: Whole,
    owned: Whole,
    unit: float,
    every: Whole,
    table: Depths,
) -> None: ...
def settle(
    order: Whole,
    free: Whole,
    outline: Whole,
    spots: Float,
    lowest: Float,
    corners: Float,
    parts: Whole,
    owned: Whole,
) -> None: ...
def draw(chance: Whole, below: int) -> int: ...
def separate(
    place: Whole,
    best: Whole,
    variants: Whole,
    ways: Whole,
    weights: Light,
    pairs: Whole,
    table: Depths,
    every: Whole,
    board: Light,
    chance: Whole,
    patience: int,
    restless: int,
    budget: int,
) -> tuple[int, int]: ...
def first_fill(
    order: Whole,
    place: Whole,
    variants: Whole,
    tops: Float,
    lefts: Float,
    ways: Whole,
    weights: Light,
    pairs: Whole,
    table: Depths,
    every: Whole,
    board: Light,
) -> bool: ...
