"""The hot loops of the layout, compiled: tables of overlap, one piece over the whole board, separation.

Everything decided here is decided on integers, so the same input gives the same layout on any processor. Floats
appear only where they hold whole numbers below 2⁵³ or one correctly rounded division.

Rows of the arrays (int64 unless said otherwise):
  variants[q]   kind, columns, first row, last row + 1, stride in x, stride in y
  pairs[q, r]   of two kinds: start, columns, rows, first column, first row of the table of r moving about q;
                steps of r and of q in table units, in x; the same in y
  place[p]      variant, column, row of piece p; the fixed shapes follow the moving ones
"""
# pyright: basic
# ruff: noqa: PLR0912, PLR0917, SIM108  compiled code passes plain arrays, and few large functions compile fastest

from __future__ import annotations

import numpy as np
from numba import boolean, float64, int16, int32, int64, njit, types, void

KIND, COLUMNS, LOW, HIGH, STRIDE_X, STRIDE_Y = 0, 1, 2, 3, 4, 5
START, WIDE, DEEP, LEFT, FOOT, STEP_X, OTHER_X, STEP_Y, OTHER_Y, COARSE = 0, 1, 2, 3, 4, 5, 6, 7, 8, 9
PLAIN_WEIGHT, MOST_WEIGHT = 128, 1 << 15
NOWHERE = 1 << 30
CLOSER = 6
DEEPEST = 32000

# called by compiled code only
helper = njit(cache=True, no_cpython_wrapper=True, no_cfunc_wrapper=True)  # pyright: ignore[reportCallIssue]
PER_SHAPE, PER_ROW = 16, 8  # work that comes with each shape and each row of places, in additions

# the arrays that are handed in, as kernels.pyi names them
WHOLES, WHOLE_ROWS, WHOLE_TABLES = int64[::1], int64[:, ::1], int64[:, :, ::1]
LIGHTS, LIGHT_ROWS, FLOATS, FLOAT_ROWS, DEPTHS = int32[::1], int32[:, ::1], float64[::1], float64[:, ::1], int16[::1]


@helper
def half_planes(a, b, corners, parts, planes):
    """Writes the half-planes whose meeting is the no-fit polygon of part b moved about part a; returns how many.

    Row: normal x, normal y, bound, length of the normal: they overlap at (dx, dy) where bound > normal · (dx, dy)
    for every row. All but the length are whole numbers.
    """
    count = 0
    for side in range(2):  # edges of a, then of b turned about
        own, other = (a, b) if side == 0 else (b, a)
        first, end = parts[own, 0], parts[own, 1]
        for i in range(first, end):
            k = i + 1 if i + 1 < end else first
            nx, ny = corners[k, 1] - corners[i, 1], corners[i, 0] - corners[k, 0]
            least = np.inf
            for m in range(parts[other, 0], parts[other, 1]):
                least = min(least, corners[m, 0] * nx + corners[m, 1] * ny)
            sign = 1.0 if side == 0 else -1.0
            planes[count, 0], planes[count, 1] = sign * nx, sign * ny
            planes[count, 2] = corners[i, 0] * nx + corners[i, 1] * ny - least
            planes[count, 3] = np.sqrt(nx * nx + ny * ny)
            count += 1
    return count


@helper
def span(planes, count, dx):
    """Returns between which dy the two parts overlap at dx; high ≤ low: nowhere."""
    low, high = -np.inf, np.inf
    for e in range(count):
        rest, ny = planes[e, 2] - planes[e, 0] * dx, planes[e, 1]
        if ny > 0:
            high = min(high, rest / ny)
        elif ny < 0:
            low = max(low, rest / ny)
        elif rest <= 0:
            return 0.0, 0.0
    return low, high


@helper
def across(part, corners, parts):
    """Returns the least and the largest x of a part."""
    low, high = np.inf, -np.inf
    for i in range(parts[part, 0], parts[part, 1]):
        low, high = min(low, corners[i, 0]), max(high, corners[i, 0])
    return low, high


@helper
def is_inside(planes, count, dx, dy):
    """Returns whether the two parts overlap at this offset; exact."""
    for e in range(count):
        if planes[e, 2] <= planes[e, 0] * dx + planes[e, 1] * dy:
            return False
    return True


@helper
def deepen(table, start, wide, deep, step_x, step_y):
    """Turns a table's marks of overlap into how far away the next free offset lies, by steps and diagonals."""
    across, along = max(1, int(step_x)), max(1, int(step_y))
    corner = max(1, int(np.sqrt(step_x * step_x + step_y * step_y)))
    for way in (1, -1):
        for k in range(wide):
            i = k if way == 1 else wide - 1 - k
            here = table[start + i * deep : start + (i + 1) * deep]
            if k == 0:
                for j in range(deep):
                    here[j] = min(np.int64(here[j]), across)
            else:
                before = table[start + (i - way) * deep : start + (i - way + 1) * deep]
                for j in range(deep):
                    here[j] = min(np.int32(here[j]), np.int32(across) + np.int32(before[j]))
                for j in range(deep - 1):
                    here[j] = min(np.int32(here[j]), np.int32(corner) + np.int32(before[j + 1]))
                for j in range(1, deep):
                    here[j] = min(np.int32(here[j]), np.int32(corner) + np.int32(before[j - 1]))
            beside = np.int64(0)
            for m in range(deep):
                j = m if way == 1 else deep - 1 - m
                beside = min(np.int64(here[j]), along + beside)
                here[j] = beside


@njit(void(WHOLE_ROWS, FLOAT_ROWS, FLOAT_ROWS, WHOLE_ROWS, WHOLE_ROWS, float64, WHOLES, DEPTHS), cache=True)
def fill_tables(jobs, bases, corners, parts, owned, unit, every, table):
    """Writes, for each job, how deep two shapes overlap at every offset: 0 where they don't.

    jobs[n] = fixed outline, moving outline, start, columns, rows; bases[n] = first offset x, y and steps x, y (float,
    µm); corners: (x, y) as floats; parts[k] = first, end corner; owned[i] = first, end part; unit: µm to one of depth.
    """
    planes = np.empty((2 * len(corners), 4), np.float64)
    for job in range(jobs.shape[0]):
        one, two, start, wide, deep = jobs[job, 0], jobs[job, 1], jobs[job, 2], jobs[job, 3], jobs[job, 4]
        x0, y0, step_x, step_y = bases[job, 0], bases[job, 1], bases[job, 2], bases[job, 3]
        for a in range(owned[one, 0], owned[one, 1]):
            low_a, high_a = across(a, corners, parts)
            for b in range(owned[two, 0], owned[two, 1]):
                low_b, high_b = across(b, corners, parts)
                i0 = max(0, int(np.floor((low_a - high_b - x0) / step_x)))
                i1 = min(wide, int(np.ceil((high_a - low_b - x0) / step_x)) + 1)
                count = half_planes(a, b, corners, parts, planes) if i0 < i1 else 0
                for i in range(i0, i1):
                    dx = np.rint(x0 + i * step_x)
                    low, high = span(planes, count, dx)
                    if high <= low:
                        continue
                    j0 = max(0, int(np.floor((low - y0) / step_y)))
                    j1 = min(deep, int(np.ceil((high - y0) / step_y)) + 1)
                    while j0 < j1 and not is_inside(planes, count, dx, np.rint(y0 + j0 * step_y)):
                        j0 += 1
                    while j1 > j0 and not is_inside(planes, count, dx, np.rint(y0 + (j1 - 1) * step_y)):
                        j1 -= 1
                    table[start + i * deep + j0 : start + i * deep + j1] = DEEPEST
        deepen(table, start, wide, deep, np.rint(step_x / unit), np.rint(step_y / unit))
        at = jobs[job, 5]
        if at >= 0:
            for i in range(0, wide, every[0]):
                for j in range(0, deep, every[1]):
                    table[at] = table[start + i * deep + j]
                    at += 1


@njit(void(WHOLES, WHOLES, WHOLES, FLOAT_ROWS, FLOATS, FLOAT_ROWS, WHOLE_ROWS, WHOLE_ROWS), cache=True)
def settle(order, free, outline, spots, lowest, corners, parts, owned):
    """Slides the free shapes down the cloth, one after another, until none moves by 10 µm.

    `spots[p]` = x, y of the grain mark, whole µm; lowest[p]: least y; outline[p]: number of its outline.
    """
    planes = np.empty((2 * len(corners), 4), np.float64)
    for _ in range(50):
        moved = 0.0
        for p in order:
            if not free[p]:
                continue
            x, y, best = spots[p, 0], spots[p, 1], lowest[p]
            for o in range(len(spots)):
                if o == p:
                    continue
                for a in range(owned[outline[o], 0], owned[outline[o], 1]):
                    low_a, high_a = across(a, corners, parts)
                    for b in range(owned[outline[p], 0], owned[outline[p], 1]):
                        low_b, high_b = across(b, corners, parts)
                        dx = x - spots[o, 0]
                        if dx <= low_a - high_b or dx >= high_a - low_b:
                            continue
                        low, high = span(planes, half_planes(a, b, corners, parts, planes), dx)
                        stop = spots[o, 1] + np.ceil(high)
                        if low < high and stop <= y + 5.0:  # 5: places rounded apart
                            best = max(best, stop)
            moved = max(moved, y - best)
            spots[p, 1] = min(y, best)
        if moved < 10.0:
            return


@helper
def look_over(p, place, variants, pairs, table, over):
    """Writes how deep piece p overlaps every other, in its row and its column of `over`."""
    r = variants[place[p, 0], KIND]
    for o in range(place.shape[0]):
        if o == p:
            continue
        q = variants[place[o, 0], KIND]
        i = pairs[q, r, STEP_X] * place[p, 1] - pairs[q, r, OTHER_X] * place[o, 1] - pairs[q, r, LEFT]
        j = pairs[q, r, STEP_Y] * place[p, 2] - pairs[q, r, OTHER_Y] * place[o, 2] - pairs[q, r, FOOT]
        depth = np.int64(0)
        if 0 <= i < pairs[q, r, WIDE] and 0 <= j < pairs[q, r, DEEP]:
            depth = np.int64(table[pairs[q, r, START] + i * pairs[q, r, DEEP] + j])
        over[p, o] = depth
        over[o, p] = depth


@helper
def weigh_places(p, r, x, columns, stride_x, y, rows, stride_y, place, variants, weights, pairs, table, every, board):
    """Fills board[:columns × rows] with the weighted overlap of piece p, lying as r, at every place; returns work.

    `every` = table units across and along in one of the coarse table; 1, 1 looks into the fine one.
    """
    for k in range(columns * rows):
        board[k] = 0
    work = columns * rows + PER_SHAPE * place.shape[0]
    r = variants[r, KIND]
    for o in range(place.shape[0]):
        if o == p or place[o, 0] < 0:
            continue
        q = variants[place[o, 0], KIND]
        wide, deep, start = pairs[q, r, WIDE], pairs[q, r, DEEP], pairs[q, r, START]
        di, dj = pairs[q, r, STEP_X] * stride_x, pairs[q, r, STEP_Y] * stride_y
        i0 = pairs[q, r, STEP_X] * x - pairs[q, r, OTHER_X] * place[o, 1] - pairs[q, r, LEFT]
        j0 = pairs[q, r, STEP_Y] * y - pairs[q, r, OTHER_Y] * place[o, 2] - pairs[q, r, FOOT]
        if i0 >= wide or j0 >= deep or i0 + (columns - 1) * di < 0 or j0 + (rows - 1) * dj < 0:
            continue
        if every[0] * every[1] > 1 and pairs[q, r, COARSE] >= 0 and di % every[0] == 0 and dj % every[1] == 0:
            start = pairs[q, r, COARSE]
            wide, deep = (wide - 1) // every[0] + 1, (deep - 1) // every[1] + 1
            i0, j0 = (i0 + every[0] // 2) // every[0], (j0 + every[1] // 2) // every[1]
            di, dj = di // every[0], dj // every[1]
        first_i = 0 if i0 >= 0 else (-i0 + di - 1) // di
        first_j = 0 if j0 >= 0 else (-j0 + dj - 1) // dj
        end_i = min(columns, (wide - 1 - i0) // di + 1)
        end_j = min(rows, (deep - 1 - j0) // dj + 1)
        if end_i <= first_i or end_j <= first_j:
            continue
        weight = weights[p, o]
        for i in range(first_i, end_i):
            base = start + (i0 + i * di) * deep + j0
            # slices of their own, whose indices can't be negative, are added up several at a time
            sums = board[i * rows + first_j : i * rows + end_j]
            depths = table[base + first_j * dj : base + (end_j - 1) * dj + 1]
            if dj == 1:
                for j in range(len(sums)):
                    sums[j] += weight * np.int32(depths[j])
            else:
                for j in range(len(sums)):
                    sums[j] += weight * np.int32(depths[j * dj])
        work += (end_i - first_i) * (end_j - first_j + PER_ROW)
    return work


@njit(int64(WHOLES, int64), cache=True)
def draw(chance, below):
    """Returns the next number of a fixed sequence, in [0, below) (Park & Miller 1988, from memory)."""
    chance[0] = chance[0] * 48271 % 2147483647
    return chance[0] % below


@helper
def best_place(p, r, place, variants, weights, pairs, table, every, board, chance, found):
    """Finds the least weighted overlap of piece p lying as r; found = column, row; returns it and the work done.

    Where a stride is more than 1, the first look is at every so-manieth place, the second at those about the best.
    """
    low, high, all_columns = variants[r, LOW], variants[r, HIGH], variants[r, COLUMNS]
    if high <= low or all_columns <= 0:
        return np.int64(NOWHERE), np.int64(0)
    stride_x, stride_y = min(variants[r, STRIDE_X], all_columns), min(variants[r, STRIDE_Y], high - low)
    x, y = draw(chance, stride_x), low + draw(chance, stride_y)
    end_x, end_y = all_columns, high
    step_x, step_y, work, least = stride_x, stride_y, np.int64(0), np.int64(0)
    while True:
        columns, rows = (end_x - 1 - x) // step_x + 1, (end_y - 1 - y) // step_y + 1
        work += weigh_places(
            p, r, x, columns, step_x, y, rows, step_y, place, variants, weights, pairs, table, every, board
        )
        at, least = least_of(board, columns * rows, chance)
        found[0], found[1] = x + at // rows * step_x, y + at % rows * step_y
        if step_x == 1 and step_y == 1:
            break
        next_x = every[0] if step_x > every[0] else (step_x + CLOSER - 1) // CLOSER
        next_y = every[1] if step_y > every[1] else (step_y + CLOSER - 1) // CLOSER
        x = found[0] - min(found[0], step_x - 1) // next_x * next_x
        y = found[1] - min(found[1] - low, step_y - 1) // next_y * next_y
        end_x, end_y = min(all_columns, found[0] + step_x), min(high, found[1] + step_y)
        step_x, step_y = next_x, next_y
    return least, work


@helper
def least_of(board, count, chance):
    """Returns where the least value stands, searching round from a drawn place, and the value."""
    least = board[0]
    for k in range(count):
        least = min(least, board[k])
    k = draw(chance, count)
    while board[k] != least:
        k = k + 1 if k + 1 < count else 0
    return k, np.int64(least)


@njit(
    types.UniTuple(int64, 2)(
        *(WHOLE_ROWS,) * 4, LIGHT_ROWS, WHOLE_TABLES, DEPTHS, WHOLES, LIGHTS, WHOLES, int64, int64, int64
    ),
    cache=True,
)
def separate(place, best, variants, ways, weights, pairs, table, every, board, chance, patience, restless, budget):
    """Moves pieces one at a time to where they overlap least, raising the weight of what still overlaps.

    `ways[p]` = first, end variant of the moving pieces. `place` is changed; `best` gets the least overlapping
    state. Returns the overlap left in it (0: a layout) and the work done.
    """
    moving, everything = ways.shape[0], place.shape[0]
    over = np.zeros((everything, everything), np.int64)
    for p in range(moving):
        look_over(p, place, variants, pairs, table, over)
    order = np.arange(moving)
    found, chosen = np.zeros(2, np.int64), np.zeros(3, np.int64)
    least, quiet, work = np.int64(1) << 60, 0, np.int64(0)
    while True:
        total, deepest = np.int64(0), np.int64(1)
        for p in range(moving):
            for o in range(p + 1, everything):
                total += over[p, o]
                deepest = max(deepest, over[p, o])
        quiet = 0 if total * 50 < least * 49 else quiet + 1
        if total < least:
            least = total
            for p in range(moving):
                best[p, 0], best[p, 1], best[p, 2] = place[p, 0], place[p, 1], place[p, 2]
        if total == 0 or quiet > patience or work > budget:
            return least, work
        heaviest = 0
        for p in range(moving):
            for o in range(p + 1, everything):
                w = np.int64(weights[p, o])
                if over[p, o] > 0:
                    w = w * (120 + 80 * over[p, o] // deepest) // 100
                else:
                    w = max(PLAIN_WEIGHT, w - w // 20)
                heaviest = max(heaviest, w)
                weights[p, o] = w
                weights[o, p] = w
        if heaviest > MOST_WEIGHT:
            for p in range(everything):
                for o in range(everything):
                    weights[p, o] = max(1, weights[p, o] // 2)
        for k in range(moving - 1, 0, -1):
            m = draw(chance, k + 1)
            order[k], order[m] = order[m], order[k]
        for p in order:
            now = np.int64(0)
            for o in range(everything):
                now += over[p, o]
            if now == 0 and draw(chance, restless) != 0:
                continue
            chosen[0] = -1
            least_here = np.int64(NOWHERE)
            for r in range(ways[p, 0], ways[p, 1]):
                here, spent = best_place(p, r, place, variants, weights, pairs, table, every, board, chance, found)
                work += spent
                if here < least_here:
                    least_here = here
                    chosen[0], chosen[1], chosen[2] = r, found[0], found[1]
            if chosen[0] < 0:
                continue
            standing = np.int64(0)
            for o in range(everything):
                standing += np.int64(weights[p, o]) * over[p, o]
            if least_here > standing:
                continue
            place[p, 0], place[p, 1], place[p, 2] = chosen[0], chosen[1], chosen[2]
            look_over(p, place, variants, pairs, table, over)


@njit(
    boolean(
        WHOLES, *(WHOLE_ROWS,) * 2, *(FLOAT_ROWS,) * 2, WHOLE_ROWS, LIGHT_ROWS, WHOLE_TABLES, DEPTHS, WHOLES, LIGHTS
    ),
    cache=True,
)
def first_fill(order, place, variants, tops, lefts, ways, weights, pairs, table, every, board):
    """Lays the pieces one after another, each as low as it can lie, then as far left; returns whether all lie.

    tops[r] = level of variant r's top in row 0 and the step of a row; lefts likewise across; µm.
    """
    ones = np.ones(2, np.int64)
    for p in order:
        place[p, 0] = -1
    for p in order:
        lowest, leftmost, chosen = np.int64(1) << 60, np.int64(0), -1
        for r in range(ways[p, 0], ways[p, 1]):
            low, high, columns = variants[r, LOW], variants[r, HIGH], variants[r, COLUMNS]
            if high <= low or columns <= 0:
                continue
            rows = high - low
            stride = min(every[0], columns)
            columns = (columns - 1) // stride + 1
            weigh_places(p, r, 0, columns, stride, low, rows, 1, place, variants, weights, pairs, table, ones, board)
            for i in range(columns):
                x = np.int64(np.rint(lefts[r, 0] + i * stride * lefts[r, 1]))
                for j in range(rows):
                    if board[i * rows + j] == 0:
                        y = np.int64(np.rint(tops[r, 0] + (low + j) * tops[r, 1]))
                        if y < lowest or (y == lowest and x < leftmost):
                            lowest, leftmost, chosen = y, x, r
                            place[p, 1], place[p, 2] = i * stride, low + j
                        break
        if chosen < 0:
            return False
        place[p, 0] = chosen
    return True
