"""Steps as a graph without rings: what waits for what, and one order that holds for one pair of hands."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from settwright.makeup.model import Step

After = dict[str, tuple[str, ...]]
"""For each step the steps that it waits for."""


def bridged(after: Mapping[str, tuple[str, ...]], kept: Iterable[str]) -> After:
    """Returns the graph of the kept steps; where one fell away, what waited for it waits for what it waited for.

    Raises KeyError where a step waits for one that doesn't exist.
    """
    standing = set(kept)
    known: dict[str, tuple[str, ...]] = {}

    def through(name: str) -> tuple[str, ...]:
        if name not in known:
            known[name] = (name,) if name in standing else tuple(found(after[name]))
        return known[name]

    def found(names: Iterable[str]) -> dict[str, None]:
        return dict.fromkeys(standing_one for name in names for standing_one in through(name))

    return {name: tuple(found(after[name])) for name in after if name in standing}


def also(after: After, wishes: Iterable[tuple[str, str]]) -> tuple[After, tuple[tuple[str, str], ...]]:
    """Returns the graph with each wish (first, then) taken up that closes no ring, and the wishes that do."""
    graph = dict(after)
    refused: list[tuple[str, str]] = []
    for first, then in wishes:
        if first == then or first in graph[then]:
            continue
        if then in before(graph, first):
            refused.append((first, then))
        else:
            graph[then] = (*graph[then], first)
    return graph, tuple(refused)


def before(after: Mapping[str, tuple[str, ...]], name: str) -> set[str]:
    """Returns everything that a step waits for, at whatever remove."""
    found: set[str] = set()
    waiting = list(after[name])
    while waiting:
        earlier = waiting.pop()
        if earlier not in found:
            found.add(earlier)
            waiting += after[earlier]
    return found


def in_order(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """Returns the steps so that each comes after those it waits for, else in the order given.

    Raises ValueError where steps wait for each other in a ring or for one that doesn't exist.
    """
    waiting, done = list(steps), list[Step]()
    names = set[str]()
    while waiting:
        ready = next((step for step in waiting if names.issuperset(step.after)), None)
        if ready is None:
            raise ValueError("these steps wait for each other: " + ", ".join(step.name for step in waiting))
        waiting.remove(ready)
        done.append(ready)
        names.add(ready.name)
    return tuple(done)


def told_once(steps: Sequence[Step]) -> tuple[Step, ...]:
    """Returns ordered steps without what they wait for anyway, because another that they wait for does."""
    earlier: dict[str, set[str]] = {}
    for step in steps:
        earlier[step.name] = set(step.after).union(*(earlier[name] for name in step.after))
    return tuple(
        replace(step, after=tuple(name for name in step.after if not any(name in earlier[o] for o in step.after)))
        for step in steps
    )
