"""Checks every claim of a plan.json from its geometry alone.

Each check yields Fault values; none of them trusts a figure of the plan that can be worked out again.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
from shapely.geometry import Polygon
from shapely.strtree import STRtree

from settwright.verify.geometry import distances_to_polyline, lying, points, shortest_arc, unwrapped, wrapped

OFF_EDGE = 0.05  # a sample lies on its named edge within this
SAMPLE_GAP = 10.0  # neighbouring samples lie no further apart
OFF_PHASE = 0.1  # a piece lies on its phase within this
SHRINK = 0.005  # cutting lines may touch: each is shrunk by this before overlaps are sought
SAME_FIGURE = 0.01  # a written drift, floor or worst figure agrees with ours within this

Plan = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Fault:
    """Something in the plan that isn't so."""

    check: str
    where: str
    what: str

    def __str__(self) -> str:
        return f"[{self.check}] {self.where}: {self.what}"


@dataclass(frozen=True, slots=True)
class JoinFigures:
    """What the verifier found for one join; None on an axis that no bars cross or that can't agree."""

    name: str
    floor: float
    worst_level: float | None
    worst_upright: float | None
    hard: bool
    level_counted: float = 0.0  # the drift that counts in a ring: at the named stop, else mid-range


def check_unique(plan: Plan) -> Iterator[Fault]:
    """Every name stands once among its kind."""
    for kind in ("cloths", "pieces", "joins"):
        seen: set[str] = set()
        for item in plan[kind]:
            if item["name"] in seen:
                yield Fault("names", item["name"], f"stands twice among the {kind}")
            seen.add(item["name"])


def check_references(plan: Plan) -> Iterator[Fault]:
    """Every reference has its object, and every piece is laid once."""
    cloths = {cloth["name"] for cloth in plan["cloths"]}
    pieces = {piece["name"]: piece for piece in plan["pieces"]}
    for piece in plan["pieces"]:
        if piece["cloth"] not in cloths:
            yield Fault("names", piece["name"], f"is cut from {piece['cloth']}, which is no cloth of the plan")
    for join in plan["joins"]:
        for side in (join["a"], join["b"]):
            piece = pieces.get(side["piece"])
            if piece is None:
                yield Fault("names", join["name"], f"joins {side['piece']}, which is no piece of the plan")
            elif side["edge"] not in {edge["name"] for edge in piece["edges"]}:
                yield Fault("names", join["name"], f"{side['piece']} has no edge {side['edge']}")
    placed = [placement["piece"] for placement in plan["placements"]]
    for name in pieces:
        if placed.count(name) != 1:
            yield Fault("names", name, f"is laid {placed.count(name)} times")
    for placement in plan["placements"]:
        if placement["piece"] not in pieces:
            yield Fault("names", placement["piece"], "is laid but is no piece of the plan")
        elif pieces[placement["piece"]]["cloth"] != placement["cloth"]:
            yield Fault("names", placement["piece"], f"is laid on {placement['cloth']}, not on its own cloth")


def check_setts(plan: Plan) -> Iterator[Fault]:
    """Bars sum to the repeat; pivots are places about which the sequence mirrors."""
    for cloth in plan["cloths"]:
        for axis in ("warp", "weft"):
            sequence, where = cloth[axis], f"{cloth['name']}, {axis}"
            total = sum(bar["width"] for bar in sequence["bars"])
            if abs(total - sequence["repeat"]) > 1e-3:
                yield Fault("setts", where, f"bars sum to {total:.3f}, the repeat says {sequence['repeat']:.3f}")
            if sequence["even"] != bool(sequence["pivots"]):
                yield Fault("setts", where, "even is said without a pivot, or a pivot without even")
            missing = [b["colour"] for b in sequence["bars"] if b["colour"] not in cloth["colours"]]
            if missing:
                yield Fault("setts", where, f"colours not named: {', '.join(missing)}")
            for pivot in sequence["pivots"]:
                if not _mirrors(sequence, pivot):
                    yield Fault("setts", where, f"does not read the same both ways about {pivot:.3f}")
            matters = len({bar["colour"] for bar in sequence["bars"]}) > 1
            if matters != sequence["matters"]:
                yield Fault("setts", where, "says wrongly whether its bars matter")


def _mirrors(sequence: dict[str, Any], pivot: float) -> bool:
    ends = np.cumsum([bar["width"] for bar in sequence["bars"]])
    colours = [bar["colour"] for bar in sequence["bars"]]

    def colour(place: float) -> str:
        index = int(np.searchsorted(ends, place % sequence["repeat"], side="right"))
        return colours[min(index, len(colours) - 1)]

    # beside every bar's edge the two ways must show the same colour, 0.1 mm clear of the edge itself
    places = np.concatenate((ends - pivot, pivot - ends)) % sequence["repeat"]
    return all(
        colour(pivot + place + shift) == colour(pivot - place - shift) for place in places for shift in (-0.1, 0.1)
    )


def check_pieces(plan: Plan) -> Iterator[Fault]:
    """Outlines are simple, the cutting line holds the seam line, edges lie on the seam line and close it."""
    for piece in plan["pieces"]:
        seam, cutting = Polygon(piece["seam_line"]), Polygon(piece["cutting_line"])
        for outline, name in ((seam, "seam line"), (cutting, "cutting line")):
            if not outline.is_valid or outline.area <= 0:
                yield Fault("pieces", piece["name"], f"the {name} crosses itself or holds nothing")
        if not cutting.is_valid or not seam.is_valid:
            continue
        if not cutting.buffer(0.05).covers(seam):
            yield Fault("pieces", piece["name"], "the seam line leaves the cutting line")
        seam_points = points([*piece["seam_line"], piece["seam_line"][0]])
        walked = np.concatenate([points(edge["points"]) for edge in piece["edges"] if edge["kind"] == "edge"])
        off = float(distances_to_polyline(walked, seam_points).max())
        if off > OFF_EDGE:
            yield Fault("pieces", piece["name"], f"a named edge lies {off:.3f} mm off the seam line")
        off = float(distances_to_polyline(seam_points, np.concatenate((walked, walked[:1]))).max())
        if off > OFF_EDGE:
            yield Fault("pieces", piece["name"], f"the named edges leave {off:.3f} mm of the seam line out")
        for edge in piece["edges"]:
            stops = points([stop["at"] for stop in edge["stops"]]) if edge["stops"] else None
            if stops is not None:
                off = float(distances_to_polyline(stops, points(edge["points"])).max())
                if off > OFF_EDGE:
                    yield Fault("pieces", f"{piece['name']}, {edge['name']}", f"a stop lies {off:.3f} mm off")


def check_hands(plan: Plan) -> Iterator[Fault]:
    """A left outline mirrors its right one, or differs where both say that they do."""
    pieces = {piece["name"]: piece for piece in plan["pieces"]}
    for name, right in pieces.items():
        if right["hand"] != "right":
            continue
        left = pieces.get(name.removesuffix(".right") + ".left")
        if left is None:
            yield Fault("hands", name, "has no left half")
            continue
        mirrors = right.get("mirrors", True)
        if left.get("mirrors", True) != mirrors:
            yield Fault("hands", name, "says otherwise than its left half whether they mirror each other")
        mirrored = points(left["seam_line"]) * np.array([-1.0, 1.0])
        ours = points(right["seam_line"])
        ring = np.concatenate((ours, ours[:1]))
        off = float(distances_to_polyline(mirrored, ring).max())
        if mirrors and off > OFF_EDGE:
            yield Fault("hands", name, f"left and right outlines differ by {off:.3f} mm")


def check_layout(plan: Plan) -> Iterator[Fault]:
    """No overlap, inside selvedges and length, clear of faults, one way where the nap asks for it."""
    pieces = {piece["name"]: piece for piece in plan["pieces"]}
    for cloth in plan["cloths"]:
        laid = [p for p in plan["placements"] if p["cloth"] == cloth["name"] and p["piece"] in pieces]
        shapes: list[Polygon] = []
        for placement in laid:
            piece = pieces[placement["piece"]]
            place = lying(
                points(piece["cutting_line"]), piece["grain_angle"], placement["turned"], placement["face"] == "wrong"
            ) + np.array([placement["x"], placement["y"]])
            shapes.append(Polygon(place).buffer(-SHRINK))
            low, high = place.min(axis=0), place.max(axis=0)
            left, right = cloth["selvedge"], cloth["width"] - cloth["selvedge"]
            if low[0] < left - SHRINK or high[0] > right + SHRINK:
                yield Fault("layout", piece["name"], f"reaches into a selvedge: x from {low[0]:.2f} to {high[0]:.2f}")
            if low[1] < -SHRINK or high[1] > cloth["length"] + SHRINK:
                yield Fault("layout", piece["name"], f"leaves the cloth: y from {low[1]:.2f} to {high[1]:.2f}")
            if placement["face"] == "wrong" and not cloth["faces_alike"]:
                yield Fault("layout", piece["name"], "lies face down on a cloth whose faces differ")
        tree = STRtree(shapes)
        for i, shape in enumerate(shapes):
            for j in tree.query(shape):
                if i < j and shape.intersection(shapes[j]).area > 0:
                    yield Fault("layout", laid[i]["piece"], f"overlaps {laid[j]['piece']}")
            for fault in cloth["faults"]:
                if fault.get("may_be_hidden") and not pieces[laid[i]["piece"]]["visible"]:
                    continue
                if shape.intersects(Polygon(fault["outline"])):
                    yield Fault("layout", laid[i]["piece"], f"touches the fault {fault['name']}")
        if cloth["nap"] == "one-way" and len({p["turned"] for p in laid}) > 1:
            yield Fault("layout", cloth["name"], "pieces lie both ways up on a cloth with a nap")


def check_phases(plan: Plan) -> Iterator[Fault]:
    """Every matched piece lies on its phase, in its own state or an equivalent one."""
    pieces = {piece["name"]: piece for piece in plan["pieces"]}
    cloths = {cloth["name"]: cloth for cloth in plan["cloths"]}
    for placement in plan["placements"]:
        piece, cloth = pieces.get(placement["piece"]), cloths.get(placement["cloth"])
        if piece is None or cloth is None or piece["free"]:
            continue
        for axis, key, sequence, reversed_as_matched, reversed_as_laid in (
            ("upright", "u", cloth["warp"], _reads_back(piece, "x"), _reads_back(placement, "x")),
            ("level", "v", cloth["weft"], _reads_back(piece, "y"), _reads_back(placement, "y")),
        ):
            phase = piece["phase"][key]
            if phase is None:
                if sequence["matters"]:
                    yield Fault("phases", piece["name"], f"has no {axis} place although the bars matter")
                continue
            origin, place = (
                (cloth["sett_origin"]["x"], placement["x"])
                if key == "u"
                else (cloth["sett_origin"]["y"], placement["y"])
            )
            if reversed_as_matched == reversed_as_laid:
                off = wrapped(np.array([place - origin - phase]), sequence["repeat"])[0]
            elif sequence["pivots"]:
                off = wrapped(np.array([place - origin + phase - 2 * sequence["pivots"][0]]), sequence["repeat"])[0]
            else:
                yield Fault("phases", piece["name"], f"was turned although the {axis} bars are uneven")
                continue
            if abs(off) > OFF_PHASE:
                yield Fault("phases", piece["name"], f"lies {off:.3f} mm off its {axis} place")


def _reads_back(item: dict[str, Any], axis: str) -> bool:
    """Returns whether the piece reads that axis of the sett backwards."""
    return item["turned"] if axis == "y" else item["turned"] != (item["face"] == "wrong")


def check_samples(plan: Plan) -> Iterator[Fault]:
    """Samples lie on the named edges, close together, from one end of the stretch to the other."""
    pieces = {piece["name"]: piece for piece in plan["pieces"]}
    for join in plan["joins"]:
        samples = np.asarray(join["samples"], dtype=np.float64).reshape(-1, 5)
        if len(samples) < 2:
            yield Fault("samples", join["name"], "has fewer than two samples")
            continue
        for side, columns in (("a", slice(0, 2)), ("b", slice(2, 4))):
            piece = pieces.get(join[side]["piece"])
            edge = next((e for e in piece["edges"] if e["name"] == join[side]["edge"]), None) if piece else None
            if edge is None:
                continue
            where, at = f"{join['name']}, {join[side]['piece']}", samples[:, columns]
            off = float(distances_to_polyline(at, points(edge["points"])).max())
            if off > OFF_EDGE:
                yield Fault("samples", where, f"a sample lies {off:.3f} mm off {edge['name']}")
            gap = float(np.sqrt((np.diff(at, axis=0) ** 2).sum(axis=1)).max())
            if gap > SAMPLE_GAP:
                yield Fault("samples", where, f"samples lie {gap:.2f} mm apart")
            stops = {stop["name"]: points([stop["at"]])[0] for stop in edge["stops"]}
            for stop, sample in ((join["stretch"][0], at[0]), (join["stretch"][1], at[-1])):
                if stop not in stops:
                    yield Fault("samples", where, f"{edge['name']} has no stop {stop}")
                elif float(np.hypot(*(sample - stops[stop]))) > OFF_EDGE:
                    yield Fault("samples", where, f"the samples don't reach {stop}")


def join_figures(plan: Plan) -> Iterator[tuple[JoinFigures, list[Fault]]]:
    """Works each join's drifts out again and compares them with what is written."""
    pieces = {piece["name"]: piece for piece in plan["pieces"]}
    cloths = {cloth["name"]: cloth for cloth in plan["cloths"]}
    for join in plan["joins"]:
        a, b = pieces.get(join["a"]["piece"]), pieces.get(join["b"]["piece"])
        if a is None or b is None or a["cloth"] not in cloths:
            continue
        cloth = cloths[a["cloth"]]
        samples = np.asarray(join["samples"], dtype=np.float64).reshape(-1, 5)
        faults: list[Fault] = []
        worst: dict[str, float | None] = {"level": None, "upright": None}
        floor, counted = 0.0, 0.0
        for axis in ("level", "upright"):
            sequence = cloth["weft"] if axis == "level" else cloth["warp"]
            ours = None
            if join[axis] != "none" and sequence["matters"]:
                ours = _drift(join, axis, (a, b), sequence, samples)
            written = join[f"{axis}_drift"]
            if (ours is None) != (written is None):
                faults.append(
                    Fault("drifts", join["name"], f"{axis} drift should {'' if ours is not None else 'not '}be told")
                )
                continue
            if ours is None or written is None:
                continue
            if len(written) != len(ours):
                faults.append(Fault("drifts", join["name"], f"{axis} drift has {len(written)} figures for {len(ours)}"))
                continue
            off = float(np.abs(wrapped(np.asarray(written) - ours, sequence["repeat"])).max())
            if off > SAME_FIGURE:
                faults.append(Fault("drifts", join["name"], f"{axis} drift is written {off:.3f} mm wrong"))
            worst[axis] = float(np.abs(ours).max())
            if abs(worst[axis] - join[f"worst_{axis}"]) > SAME_FIGURE:  # type: ignore[operator]
                faults.append(
                    Fault(
                        "drifts",
                        join["name"],
                        f"the worst {axis} drift is {worst[axis]:.3f}, not {join[f'worst_{axis}']:.3f}",
                    )
                )
            if axis == "level":
                floor = shortest_arc(ours, sequence["repeat"]) / 2
                whole = unwrapped(ours, sequence["repeat"])
                counted = float(whole.max() + whole.min()) / 2
                if join["level_at"]:
                    counted = _at_stop(a, join, samples, ours)
                if abs(floor - join["floor"]) > SAME_FIGURE:
                    faults.append(Fault("drifts", join["name"], f"the floor is {floor:.3f}, not {join['floor']:.3f}"))
        yield JoinFigures(join["name"], floor, worst["level"], worst["upright"], join["hard"], counted), faults


def _at_stop(a: dict[str, Any], join: dict[str, Any], samples: np.ndarray, drift: np.ndarray) -> float:
    """Returns the drift at the join's named stop, found on edge a; not a number where it has none."""
    for edge in a["edges"]:
        if edge["name"] == join["a"]["edge"]:
            for stop in edge["stops"]:
                if stop["name"] == join["level_at"]:
                    away = np.hypot(samples[:, 0] - stop["at"][0], samples[:, 1] - stop["at"][1])
                    return float(drift[int(np.argmin(away))]) if away.min() <= OFF_EDGE else float("nan")
    return float("nan")


def check_cycles(plan: Plan, figures: dict[str, JoinFigures]) -> Iterator[Fault]:
    """Every ring closes from piece to piece, and leaves over what it says."""
    joins = {join["name"]: join for join in plan["joins"]}
    for cycle in plan["cycles"]:
        where = " – ".join(cycle["joins"])
        if not set(cycle["joins"]) <= set(figures) or len(cycle["joins"]) < 2:
            yield Fault("cycles", where, "names a join that the plan hasn't, or too few for a ring")
            continue
        ring = [joins[name] for name in cycle["joins"]]
        over = _around(ring, figures, ring[0]["a"]["piece"])
        if over is None:
            over = _around(ring, figures, ring[0]["b"]["piece"])
        if over is None:
            yield Fault("cycles", where, "is no ring: the joins don't lead back to where they began")
            continue
        cloth = next(p["cloth"] for p in plan["pieces"] if p["name"] == ring[0]["a"]["piece"])
        repeat = next(c["weft"]["repeat"] for c in plan["cloths"] if c["name"] == cloth)
        left_over = abs(float(wrapped(np.array([over]), repeat)[0]))
        if not abs(left_over - abs(cycle["closing"])) <= SAME_FIGURE * len(ring):
            yield Fault("cycles", where, f"leaves {left_over:.3f} mm over, not {abs(cycle['closing']):.3f}")


def _around(ring: list[dict[str, Any]], figures: dict[str, JoinFigures], start: str) -> float | None:
    at, total = start, 0.0
    for join in ring:
        a, b, counted = join["a"]["piece"], join["b"]["piece"], figures[join["name"]].level_counted
        if at == a:
            at, total = b, total + counted
        elif at == b:
            at, total = a, total - counted
        else:
            return None
    return total if at == start else None


def _drift(
    join: dict[str, Any],
    axis: str,
    pieces: tuple[dict[str, Any], dict[str, Any]],
    sequence: dict[str, Any],
    samples: np.ndarray,
) -> np.ndarray | None:
    (a, b), column, key = pieces, 1 if axis == "level" else 0, "v" if axis == "level" else "u"
    if a["phase"][key] is None or b["phase"][key] is None:
        return None
    q_a = a["phase"][key] + lying(samples[:, 0:2], a["grain_angle"], a["turned"], a["face"] == "wrong")[:, column]
    q_b = b["phase"][key] + lying(samples[:, 2:4], b["grain_angle"], b["turned"], b["face"] == "wrong")[:, column]
    letter = "y" if axis == "level" else "x"
    same_way = (_reads_back(a, letter) == _reads_back(b, letter)) == (join[axis] == "continue")
    if same_way:
        return wrapped(q_a - q_b, sequence["repeat"])
    if not sequence["pivots"]:
        return None
    return wrapped(q_a + q_b - 2 * sequence["pivots"][0], sequence["repeat"])


def check_all(plan: Plan) -> tuple[tuple[Fault, ...], tuple[JoinFigures, ...]]:
    """Returns every fault of a plan that fits its schema, and the figures of its joins."""
    structure = tuple(itertools.chain(check_unique(plan), check_references(plan), check_setts(plan)))
    if any(fault.check == "names" for fault in structure):
        return structure, ()
    figures = tuple(join_figures(plan))
    faults = itertools.chain(
        structure,
        check_pieces(plan),
        check_hands(plan),
        check_layout(plan),
        check_phases(plan),
        check_samples(plan),
        *(found for _, found in figures),
        check_cycles(plan, {figure.name: figure for figure, _ in figures}),
    )
    return tuple(faults), tuple(figure for figure, _ in figures)
