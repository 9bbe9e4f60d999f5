"""The hot loop of the bars stage, compiled: what one join costs at many placings of its two pieces.

All of it on whole numbers: lengths in µm, colour differences in thousandths, shares of the join in 1/4096. So no
processor decides otherwise, and a table holds the very figures that a single placing gives.
"""
# pyright: basic
# ruff: noqa: PLR0912, PLR0917  compiled code passes plain arrays, and few large functions compile fastest

from __future__ import annotations

import numpy as np
from numba import boolean, int64, njit

from settwright.bars.objective import CELL

# the plain numbers of a join, by place in the array `numbers`
LEVEL_SENSE, UPRIGHT_SENSE, LEVEL_FACTOR, UPRIGHT_FACTOR, LEVEL_REPEAT, UPRIGHT_REPEAT = 0, 1, 2, 3, 4, 5
CAP, LIMIT, HOLD, BROKEN, COLOUR_FACTOR, WEFTS = 6, 7, 8, 9, 10, 11
DOUBLED_A, DOUBLED_B, TOWARDS, DOUBLED_COST, DOUBLED_FROM, SHARES, MIRRORED = 12, 13, 14, 15, 16, 17, 18

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
    mark = watched[(a % repeat) // CELL]  # 4 × bar + part: before, in or after its middle
    if mark < 0:
        return 0
    if numbers[MIRRORED] != 0:
        return numbers[DOUBLED_COST] if mark % 4 == 1 + numbers[TOWARDS] else 0
    if mark // 4 != watched[(b % repeat) // CELL] // 4:
        return 0
    half = repeat // 2
    more = numbers[TOWARDS] * (half - (half - (a - b)) % repeat)
    return numbers[DOUBLED_COST] if more > numbers[DOUBLED_FROM] else 0


@helper
def crossings(us, vs, xs, ys, warp, weft, numbers, times):
    """Returns `times` the number of the crossing under each place of a piece: one row for each of its placings."""
    count = max(len(us), len(vs))
    # unsigned, so that looking up and dividing need not ask for the sign
    found = np.empty((count, len(xs)), np.uint64)
    repeat_u, repeat_v, wefts = numbers[UPRIGHT_REPEAT], numbers[LEVEL_REPEAT], numbers[WEFTS]
    for i in range(count):
        if i == 0 or len(us) > 1:
            u = us[i if len(us) > 1 else 0] % repeat_u
            for p in range(len(xs)):
                x = u + xs[p]
                x = x - repeat_u if x >= repeat_u else x
                found[i, p] = warp[np.uint64(x) // np.uint64(CELL)] * wefts
        else:
            found[i] = found[0]
    for i in range(count):
        v = vs[i if len(vs) > 1 else 0] % repeat_v
        for p in range(len(xs)):
            y = v + ys[p]
            y = y - repeat_v if y >= repeat_v else y
            found[i, p] += np.uint64(weft[np.uint64(y) // np.uint64(CELL)])
            found[i, p] *= np.uint64(times)
    return found


@helper
def add_misses(
    costs, ua, va, ub, vb, is_across, numbers,
    level_offsets, level_targets, upright_offsets, upright_targets, shares, watched,
):  # fmt: skip
    """Adds to a table of placings what misses, and a bar standing doubled, cost there: see join_costs."""
    n, m = costs.shape
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


@helper
def add_colours(costs, ua, va, ub, vb, is_across, numbers, ax, ay, bx, by, patch_shares, warp, weft, table):
    """Adds to a table of placings what the colours across the join cost there."""
    if numbers[COLOUR_FACTOR] == 0:
        return
    patch_total = patch_shares.sum()
    first = crossings(ua, va, ax, ay, warp, weft, numbers, table.shape[1])
    second = crossings(ub, vb, bx, by, warp, weft, numbers, 1)
    differences = table.ravel()
    for i in range(costs.shape[0]):
        row = first[i if len(first) > 1 else 0]
        for j in range(costs.shape[1]):
            k = j if is_across else i
            other = second[k if len(second) > 1 else 0]
            colour = 0
            for p in range(len(patch_shares)):
                colour += differences[row[p] + other[p]] * patch_shares[p]
            costs[i, j] += numbers[COLOUR_FACTOR] * (colour * numbers[SHARES] // patch_total)


ROW, GRID, CUBE = int64[::1], int64[:, ::1], int64[:, :, ::1]


@njit(GRID(ROW, ROW, ROW, ROW, *(ROW,) * 14, GRID), cache=True)
def join_costs(
    ua, va, ub, vb, numbers,
    level_offsets, level_targets, upright_offsets, upright_targets, shares,
    ax, ay, bx, by, patch_shares, warp, weft, watched, table,
):  # fmt: skip
    """Returns a join's cost at the i-th phases of its pieces a and b, shape (n, 1).

    Offsets, targets and places of the patch lie in [0, repeat).
    """
    costs = np.zeros((len(ua), 1), np.int64)
    add_misses(
        costs, ua, va, ub, vb, False, numbers,
        level_offsets, level_targets, upright_offsets, upright_targets, shares, watched,
    )  # fmt: skip
    add_colours(costs, ua, va, ub, vb, False, numbers, ax, ay, bx, by, patch_shares, warp, weft, table)
    return costs


# the joins of a problem in a row: numbers and which colours each asks for; where its samples, targets (level, upright)
# and places begin; then samples, targets, places, and what is looked up (objective.Pack)
PACK = (GRID, ROW, ROW, ROW, ROW, ROW, *(ROW,) * 10, GRID, GRID, ROW, CUBE)


@njit(GRID(ROW, ROW, ROW, ROW, *PACK), cache=True)
def placing_costs(
    first, second, u, v, all_numbers, kinds, samples, levels, uprights, places,
    level_offsets, level_targets, upright_offsets, upright_targets, shares,
    ax, ay, bx, by, patch_shares, warps, wefts, watched, tables,
):  # fmt: skip
    """Returns what each join costs where its pieces (`first`, `second`: instance numbers) lie at the phases u, v.

    Shape (2, joins): misses and the like; colours.
    """
    found = np.zeros((2, len(first)), np.int64)
    for n in range(len(first)):
        a, b = slice(first[n], first[n] + 1), slice(second[n], second[n] + 1)
        s, p, kind = slice(samples[n], samples[n + 1]), slice(places[n], places[n + 1]), kinds[n]
        add_misses(
            found[0:1, n : n + 1], u[a], v[a], u[b], v[b], False, all_numbers[n],
            level_offsets[s], level_targets[levels[n] : levels[n + 1]],
            upright_offsets[s], upright_targets[uprights[n] : uprights[n + 1]], shares[s], watched,
        )  # fmt: skip
        add_colours(
            found[1:2, n : n + 1], u[a], v[a], u[b], v[b], False, all_numbers[n],
            ax[p], ay[p], bx[p], by[p], patch_shares[p], warps[kind], wefts[kind], tables[kind],
        )  # fmt: skip
    return found


# one row of `sides` for each join: its number, instances a and b, then group, sense and shift of a and of b, where
# its table begins, and whether that table has b's group first
JOIN, A, B, GROUP_A, SENSE_A, SHIFT_A, GROUP_B, SENSE_B, SHIFT_B, SLOT, SWAPPED = range(11)
# one row of `wishes` for each wish: group, sense and shift of its piece, the phase that grants it, how far to keep
# off, where its table begins, the repeat, the most that counts and what a µm costs
W_GROUP, W_SENSE, W_SHIFT, W_PHASE, W_OFF, W_SLOT, W_REPEAT, W_CAP, W_COST = range(9)


@njit(ROW(int64, boolean, ROW, ROW, ROW, ROW, GRID, GRID, *PACK), cache=True)
def axis_tables(
    size, is_level, u, v, domains, begins, sides, wishes, all_numbers, kinds, samples, levels, uprights, places,
    level_offsets, level_targets, upright_offsets, upright_targets, shares,
    ax, ay, bx, by, patch_shares, warps, wefts, watched, tables,
):  # fmt: skip
    """Returns the tables of one axis, each in its slot of a row of this size.

    `domains` holds the places of every group one after the other, those of group g from `begins[g]` on.
    """
    arena = np.zeros(size, np.int64)
    for row in sides:
        a, b = row[A], row[B]
        on_a = row[SENSE_A] * domains[begins[row[GROUP_A]] : begins[row[GROUP_A] + 1]] + row[SHIFT_A]
        on_b = row[SENSE_B] * domains[begins[row[GROUP_B]] : begins[row[GROUP_B] + 1]] + row[SHIFT_B]
        is_across = row[GROUP_A] != row[GROUP_B]
        costs = np.zeros((len(on_a), len(on_b) if is_across else 1), np.int64)
        if is_level:
            ua, va, ub, vb = u[a : a + 1], on_a, u[b : b + 1], on_b
        else:
            ua, va, ub, vb = on_a, v[a : a + 1], on_b, v[b : b + 1]
        n = row[JOIN]
        s, p, kind = slice(samples[n], samples[n + 1]), slice(places[n], places[n + 1]), kinds[n]
        add_misses(
            costs, ua, va, ub, vb, is_across, all_numbers[n],
            level_offsets[s], level_targets[levels[n] : levels[n + 1]],
            upright_offsets[s], upright_targets[uprights[n] : uprights[n + 1]], shares[s], watched,
        )  # fmt: skip
        add_colours(
            costs, ua, va, ub, vb, is_across, all_numbers[n],
            ax[p], ay[p], bx[p], by[p], patch_shares[p], warps[kind], wefts[kind], tables[kind],
        )  # fmt: skip
        slot = row[SLOT]
        for i in range(costs.shape[0]):
            for j in range(costs.shape[1]):
                at = j * costs.shape[0] + i if row[SWAPPED] else i * costs.shape[1] + j
                arena[slot + at] += costs[i, j]
    for row in wishes:
        half = row[W_REPEAT] // 2
        first = begins[row[W_GROUP]]
        for i in range(begins[row[W_GROUP] + 1] - first):
            miss = row[W_SENSE] * domains[first + i] + row[W_SHIFT] - row[W_PHASE]
            miss = abs(half - (half - miss) % row[W_REPEAT])
            if row[W_OFF] > 0:
                miss = max(row[W_OFF] - miss, 0)
            arena[row[W_SLOT] + i] += min(miss, row[W_CAP]) * row[W_COST]
    return arena


# one row of `steps` for each unknown that is eliminated: how many others its tables name, where the sizes of those
# and of itself begin, where its tables begin and how many they are, where the best costs and the choices go
OTHERS, SIZES_FROM, TABLES_FROM, COUNT, BEST_TO, CHOICE_TO = range(6)


@helper
def add_row(summed, arena, where, stride):
    """Adds to each state of an unknown what one table has for it, from `where` on."""
    if stride == 1:
        for x in range(len(summed)):
            summed[x] += arena[where + x]
    elif stride == 0:
        for x in range(len(summed)):
            summed[x] += arena[where]
    else:
        for x in range(len(summed)):
            summed[x] += arena[where + x * stride]


@njit(ROW(ROW, GRID, ROW, ROW, GRID, int64), cache=True)
def eliminated(arena, steps, sizes, bases, strides, choices):
    """Returns the best state of each step's unknown by the states of the others; fills the arena's best costs.

    Tables lie in the arena; `bases` says where, `strides` how far apart the states of each of a step's unknowns
    are in it, the eliminated one last. Within a run of the last of the others, tables that don't name it are added
    up once.
    """
    best_state = np.zeros(choices, np.int64)
    for step in steps:
        others, first, tables, count = step[OTHERS], step[SIZES_FROM], step[TABLES_FROM], step[COUNT]
        own = sizes[first + others]
        run = sizes[first + others - 1] if others > 0 else 1
        rows = 1
        for d in range(others - 1):
            rows *= sizes[first + d]
        along = np.zeros(count, np.int64)  # how far each table runs on with the last of the others
        for t in range(count if others > 0 else 0):
            along[t] = strides[tables + t, others - 1]
        apart = strides[tables : tables + count, others]
        counter = np.zeros(others + 1, np.int64)
        at = bases[tables : tables + count].copy()
        still, summed = np.empty(own, np.int64), np.empty(own, np.int64)
        cell = 0
        for _ in range(rows):
            still[:] = 0
            for t in range(count):
                if along[t] == 0:
                    add_row(still, arena, at[t], apart[t])
            for j in range(run):
                for x in range(own):
                    summed[x] = still[x]
                for t in range(count):
                    if along[t] != 0:
                        add_row(summed, arena, at[t] + j * along[t], apart[t])
                least = summed[0]
                for x in range(1, own):
                    least = min(least, summed[x])
                state = 0
                while summed[state] != least:
                    state += 1
                arena[step[BEST_TO] + cell] = least
                best_state[step[CHOICE_TO] + cell] = state
                cell += 1
            d = others - 2
            while d >= 0:  # the next row, the last unknown running fastest
                counter[d] += 1
                for t in range(count):
                    at[t] += strides[tables + t, d]
                if counter[d] < sizes[first + d]:
                    break
                for t in range(count):
                    at[t] -= sizes[first + d] * strides[tables + t, d]
                counter[d] = 0
                d -= 1
    return best_state
