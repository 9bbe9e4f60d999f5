"""The hot loop of the bars stage, compiled: what one join costs at many placings of its two pieces.

All of it on whole numbers: lengths in µm, colour differences in thousandths, shares of the join in 1/4096. So no
processor decides otherwise, and a table holds the very figures that a single placing gives.
"""
# pyright: basic
# ruff: noqa: PLR0912, PLR0917  compiled code passes plain arrays, and few large functions compile fastest

from __future__ import annotations

import numpy as np
from numba import boolean, int64, njit

# the plain numbers of a join, by place in the array `numbers`
LEVEL_SENSE, UPRIGHT_SENSE, LEVEL_FACTOR, UPRIGHT_FACTOR, LEVEL_REPEAT, UPRIGHT_REPEAT = 0, 1, 2, 3, 4, 5
CAP, LIMIT, HOLD, BROKEN, COLOUR_FACTOR, WEFTS, CELL = 6, 7, 8, 9, 10, 11, 12
DOUBLED_A, DOUBLED_B, TOWARDS, DOUBLED_COST, DOUBLED_FROM, SHARES, MIRRORED = 13, 14, 15, 16, 17, 18, 19

# called by compiled code only
helper = njit(cache=True, no_cpython_wrapper=True, no_cfunc_wrapper=True)  # pyright: ignore[reportCallIssue]


@helper
def missed(base, offsets, shares, total, targets, repeat, factor, numbers):
    """Returns what the misses of one axis cost where the two phases differ by `base`; offsets lie in [0, repeat)."""
    base = base % repeat
    cap, limit = numbers[CAP], numbers[LIMIT]
    loss = 0
    for k in range(len(offsets)):
        miss = base + offsets[k]
        if miss >= repeat:
            miss -= repeat
        miss = min(miss, repeat - miss)
        loss += min(miss, cap) * shares[k]
    cost = factor * (loss * numbers[SHARES] // total)
    for k in range(len(targets)):
        miss = (base + targets[k]) % repeat
        miss = min(miss, repeat - miss)
        if miss > limit:
            cost += numbers[BROKEN]
        cost += numbers[HOLD] * min(miss, limit)
    return cost


@helper
def doubled(a, b, watched, numbers):
    """Returns what it costs that a watched bar stands doubled where the seam shows these two places."""
    repeat = numbers[UPRIGHT_REPEAT]
    mark = watched[(a % repeat) // numbers[CELL]]  # 4 × bar + part: before, in or after its middle
    if mark < 0:
        return 0
    if numbers[MIRRORED] != 0:
        return numbers[DOUBLED_COST] if mark % 4 == 1 + numbers[TOWARDS] else 0
    if mark // 4 != watched[(b % repeat) // numbers[CELL]] // 4:
        return 0
    half = repeat // 2
    more = numbers[TOWARDS] * (half - (half - (a - b)) % repeat)
    return numbers[DOUBLED_COST] if more > numbers[DOUBLED_FROM] else 0


@helper
def crossings(us, vs, xs, ys, warp, weft, numbers):
    """Returns the number of the crossing under each place of a piece: one row for each of its placings."""
    count = max(len(us), len(vs))
    found = np.empty((count, len(xs)), np.int32)
    repeat_u, repeat_v, cell, wefts = (
        numbers[UPRIGHT_REPEAT],
        numbers[LEVEL_REPEAT],
        numbers[CELL],
        numbers[WEFTS],
    )
    for i in range(count):
        u = us[i if len(us) > 1 else 0] % repeat_u
        v = vs[i if len(vs) > 1 else 0] % repeat_v
        for p in range(len(xs)):
            x, y = u + xs[p], v + ys[p]
            if x >= repeat_u:
                x -= repeat_u
            if y >= repeat_v:
                y -= repeat_v
            found[i, p] = warp[x // cell] * wefts + weft[y // cell]
    return found


ROW, GRID = int64[::1], int64[:, ::1]


@njit(GRID(ROW, ROW, ROW, ROW, boolean, *(ROW,) * 14, GRID), cache=True)
def join_costs(
    ua, va, ub, vb, is_across, numbers,
    level_offsets, level_targets, upright_offsets, upright_targets, shares,
    ax, ay, bx, by, patch_shares, warp, weft, watched, table,
):  # fmt: skip
    """Returns a join's cost at placings of its pieces a and b.

    `ua`, `va` hold a's phases, each one or n of them; `ub`, `vb` likewise b's. Across: every placing of a against
    every one of b, shape (n, m). Along: the i-th of a against the i-th of b, shape (n, 1). Offsets, targets and
    places of the patch lie in [0, repeat).
    """
    n, m = max(len(ua), len(va)), max(len(ub), len(vb))
    if not is_across:
        n = max(n, m)
        m = 1
    costs = np.zeros((n, m), np.int64)
    total = shares.sum()
    for axis in range(2):
        sense = numbers[LEVEL_SENSE] if axis == 0 else numbers[UPRIGHT_SENSE]
        if sense == 0:
            continue
        a, b = (va, vb) if axis == 0 else (ua, ub)
        offsets, targets = (level_offsets, level_targets) if axis == 0 else (upright_offsets, upright_targets)
        repeat = numbers[LEVEL_REPEAT] if axis == 0 else numbers[UPRIGHT_REPEAT]
        factor = numbers[LEVEL_FACTOR] if axis == 0 else numbers[UPRIGHT_FACTOR]
        if len(a) == 1 and len(b) == 1:
            costs += missed(a[0] - sense * b[0], offsets, shares, total, targets, repeat, factor, numbers)
            continue
        for i in range(n):
            for j in range(m):
                k = j if is_across else i
                base = a[i if len(a) > 1 else 0] - sense * b[k if len(b) > 1 else 0]
                costs[i, j] += missed(base, offsets, shares, total, targets, repeat, factor, numbers)
    if numbers[TOWARDS] != 0:
        for i in range(n):
            for j in range(m):
                k = j if is_across else i
                costs[i, j] += doubled(
                    ua[i if len(ua) > 1 else 0] + numbers[DOUBLED_A],
                    ub[k if len(ub) > 1 else 0] + numbers[DOUBLED_B],
                    watched,
                    numbers,
                )
    if numbers[COLOUR_FACTOR] != 0:
        patch_total = patch_shares.sum()
        first = crossings(ua, va, ax, ay, warp, weft, numbers)
        second = crossings(ub, vb, bx, by, warp, weft, numbers)
        for i in range(n):
            row = first[i if len(first) > 1 else 0]
            for j in range(m):
                k = j if is_across else i
                other = second[k if len(second) > 1 else 0]
                colour = 0
                for p in range(len(patch_shares)):
                    colour += table[row[p], other[p]] * patch_shares[p]
                costs[i, j] += numbers[COLOUR_FACTOR] * (colour * numbers[SHARES] // patch_total)
    return costs
