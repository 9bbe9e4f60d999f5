"""The order of work, derived from the pieces and seams at hand: what a couture tailor does after what.

Each garment has a table of tasks; those that find nothing to do fall away, and what waited for them waits for what
they waited for. Where seams meet, the one that runs into the other is sewn first: that comes from the corners of the
pieces themselves and goes before custom. A step waits for the steps it names, not for a number: a workroom of three
can take what is ready. The list comes out in an order that holds for one pair of hands.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from settwright.commission.design import FrontEdge
from settwright.findings import Finding, Weight
from settwright.makeup.allowances import plain_name
from settwright.makeup.facing import PREFIX as FACED
from settwright.makeup.handwork.ensemble import AFTER, BEFORE, LAST_PRESS, OTHER, OTHER_PIECES
from settwright.makeup.handwork.graph import After, also, bridged, in_order, told_once
from settwright.makeup.handwork.jacket import JACKET as JACKET_TASKS
from settwright.makeup.handwork.lower import SKIRT as SKIRT_TASKS
from settwright.makeup.handwork.lower import TROUSERS as TROUSERS_TASKS
from settwright.makeup.handwork.lower import plain_tasks
from settwright.makeup.handwork.roles import (
    JACKET,
    SKIRT,
    TROUSERS,
    Joint,
    Part,
    Work,
    is_front,
    joint_of,
    part_of,
    rank_of,
)
from settwright.makeup.handwork.task import Present, Task
from settwright.makeup.model import CutPiece, JoinSide, SewnPair, Step
from settwright.pattern import LineKind

_TABLES = {JACKET: JACKET_TASKS, SKIRT: SKIRT_TASKS, TROUSERS: TROUSERS_TASKS}


@dataclass(frozen=True)
class Order:
    """The order of work, and what is sewn in it."""

    steps: tuple[Step, ...]
    works: tuple[Work, ...]  # every seam and dart that is sewn, once for each hand
    findings: tuple[Finding, ...] = ()


def order_of_work(pieces: Sequence[CutPiece], sewn: Sequence[SewnPair], front_edge: FrontEdge) -> Order:
    """Returns the steps for these pieces and seams, each after those it waits for, naming what it handles and sews.

    A cut whose own seams contradict themselves gets a caution, never a ring.
    """
    works = works_of(pieces, sewn)
    garments = tuple(dict.fromkeys(piece.garment for piece in pieces))
    present = {
        garment: Present(
            garment,
            tuple(piece for piece in pieces if piece.garment == garment),
            tuple(work for work in works if work.garment == garment),
            front_edge,
        )
        for garment in garments
    }
    tables = {garment: _table(present[garment]) for garment in garments}
    other = tuple(piece for piece in pieces if _is_unnamed(piece, tables[piece.garment]))
    tasks = (*BEFORE, *(task for table in tables.values() for task in table), OTHER, *AFTER)
    after: After = {task.name: task.after for task in tasks}
    fitted = [name for name in after if name.startswith("correct the ")]
    after[OTHER_PIECES] = tuple(fitted) or (BEFORE[-1].name,)
    kept = [task for table in tables.values() for task in table if task.when(present[_garment_of(task, tables)])]
    standing = [*BEFORE, *kept, *([OTHER] if other else ()), *AFTER]
    graph = bridged(after, (task.name for task in standing))
    sewing = _sewing(kept, works, tables)
    graph, refused = also(graph, _from_corners(pieces, works, sewing))
    custom = ((first, task.name) for task in kept for first in _standing(task.rather_after, after, graph))
    graph, _ = also(graph, custom)
    waited_for = {name for names in graph.values() for name in names}
    last = (task.name for task in standing if task not in AFTER and task.name not in waited_for)
    graph, _ = also(graph, ((name, LAST_PRESS) for name in last))
    turn = _in_turn(works, sewing)
    steps = tuple(
        Step(
            task.name,
            task.text,
            graph[task.name],
            _handled(task, pieces, tables, other),
            task.caution,
            tuple(turn.get(task.name, ())),
            task.checks,
        )
        for task in standing
    )
    return Order(told_once(in_order(steps)), works, tuple(map(_ring, refused)))


def works_of(pieces: Sequence[CutPiece], sewn: Sequence[SewnPair]) -> tuple[Work, ...]:
    """Returns everything that is sewn: the seams, then the darts of each piece."""
    by_name = {piece.name: piece for piece in pieces}
    found: list[Work] = []
    for seam in sewn:
        joint = joint_of(seam, by_name.__getitem__)
        if joint is not None:
            garment = by_name[seam.a.piece].garment
            found.append(Work(seam.name, garment, joint, seam.a, seam.b, tuple(name for name, _ in seam.stops)))
    return (*found, *(dart for piece in pieces for dart in _darts(piece)))


def _darts(piece: CutPiece) -> Iterator[Work]:
    """Yields each dart once; one that is drawn as two legs by its back leg."""
    if part_of(piece.piece) is Part.INTERLINING:
        return  # cut out and closed edge to edge
    is_back = piece.garment == JACKET and part_of(piece.piece) is Part.BODY and not is_front(piece.piece.name)
    joint = Joint.BACK_DART if is_back else Joint.DART
    joint = {Part.SLEEVE: Joint.SLEEVE_SEAM, Part.LINING: Joint.LINING_SEAM}.get(part_of(piece.piece), joint)
    for line in piece.piece.lines:
        if line.kind is LineKind.DART and line.name.startswith(FACED):
            side = JoinSide(piece.name, line.name)
            yield Work(f"{piece.name}: {line.name}", piece.garment, Joint.FACING_FOLD, side, side, ())
        elif line.kind is LineKind.DART and not plain_name(line.name).endswith("-front-leg"):
            name = line.name.replace("-back-leg", "")
            side = JoinSide(piece.name, line.name)
            yield Work(f"{piece.name}: {name}", piece.garment, joint, side, side, ())


def _table(present: Present) -> tuple[Task, ...]:
    return _TABLES.get(present.garment) or plain_tasks(present.garment)


def _garment_of(task: Task, tables: Mapping[str, tuple[Task, ...]]) -> str:
    return next(garment for garment, table in tables.items() if any(task is other for other in table))


def _is_unnamed(piece: CutPiece, table: tuple[Task, ...]) -> bool:
    """Whether no step of its garment would cut a piece."""
    return not any(task.name.startswith("cut ") and task.handles(piece) for task in table)


def _sewing(
    kept: Sequence[Task], works: Sequence[Work], tables: Mapping[str, tuple[Task, ...]]
) -> dict[tuple[str, str], str]:
    """Returns in which step each seam is sewn: the first one kept that sews such a joint, else where the body is."""
    found: dict[tuple[str, str], str] = {}
    first: dict[tuple[str, Joint], str] = {}
    for task in kept:
        garment = _garment_of(task, tables)
        for joint in task.sews:
            first.setdefault((garment, joint), task.name)
    fallback = {
        garment: next(task.name for task in reversed(kept) if task.sews and _garment_of(task, tables) == garment)
        for garment in tables
    }
    for work in works:
        found[work.key] = first.get((work.garment, work.joint), fallback[work.garment])
    return found


def _in_turn(works: Sequence[Work], sewing: Mapping[tuple[str, str], str]) -> dict[str, list[str]]:
    """Returns the seams that each step sews, what runs into a seam before that seam."""
    ranks = _ranks(works)
    found: dict[str, list[str]] = {}
    for work in sorted(works, key=lambda work: ranks.get(work.key, _LAST)):
        found.setdefault(sewing[work.key], []).append(work.name)
    return found


_LAST = 9


def _ranks(works: Sequence[Work]) -> dict[tuple[str, str], int]:
    """Returns the rank of each seam whose place follows from the seams that it meets."""
    in_halves = {work.garment for work in works if work.joint is Joint.BAND_SEAM}
    found: dict[tuple[str, str], int] = {}
    for work in works:
        rank = rank_of(work.joint)
        if work.joint is Joint.SEAT and work.garment in in_halves:
            rank = rank_of(Joint.BAND_SEAM)  # they let out together
        if rank is not None:
            found[work.key] = rank
    return found


def corners(pieces: Sequence[CutPiece], works: Sequence[Work]) -> Iterator[tuple[Work, Work]]:
    """Yields each two seams that meet at a corner of a piece and differ in rank, the one sewn first first."""
    ranks = _ranks(works)
    at: dict[tuple[str, str, str], list[Work]] = {}
    for work in works:
        if work.key not in ranks:
            continue
        for side in (work.a, work.b):
            for stop in {*work.stops[:1], *work.stops[-1:]}:
                at.setdefault((side.piece, side.edge, stop), []).append(work)
    for piece in pieces:
        edges = piece.piece.edges
        for edge, following in zip(edges, (*edges[1:], edges[0]), strict=True):
            for work in at.get((piece.name, edge.name, edge.end), ()):
                for other in at.get((piece.name, following.name, following.start), ()):
                    before, after = ranks[work.key], ranks[other.key]
                    if before != after:
                        yield (work, other) if before < after else (other, work)


def _from_corners(
    pieces: Sequence[CutPiece], works: Sequence[Work], sewing: Mapping[tuple[str, str], str]
) -> Iterator[tuple[str, str]]:
    return iter(dict.fromkeys((sewing[first.key], sewing[then.key]) for first, then in corners(pieces, works)).keys())


def _standing(names: tuple[str, ...], after: After, graph: After) -> tuple[str, ...]:
    """Returns the kept steps that stand for those named."""
    return bridged({**after, "": names}, (*graph, ""))[""]


def _handled(
    task: Task, pieces: Sequence[CutPiece], tables: Mapping[str, tuple[Task, ...]], other: Sequence[CutPiece]
) -> tuple[str, ...]:
    if task.name == OTHER_PIECES:
        return tuple(piece.name for piece in other)
    shared = task in BEFORE or task in AFTER
    garment = None if shared else _garment_of(task, tables)
    return tuple(piece.name for piece in pieces if garment in (None, piece.garment) and task.handles(piece))


def _ring(refused: tuple[str, str]) -> Finding:
    return Finding(
        Weight.CAUTION,
        "order of work",
        f"by its seams this cut asks for “{refused[0]}” before “{refused[1]}”, and by others for the reverse.",
        "Leave the end of the seam open where the two meet, and close it by hand.",
    )
