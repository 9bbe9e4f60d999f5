"""A step of the work before it is known what is there to be worked on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

from settwright.commission.design import FrontEdge
from settwright.makeup.allowances import plain_name
from settwright.makeup.handwork.roles import Joint, Part, Work, part_of
from settwright.makeup.model import CutPiece
from settwright.pattern import LineKind

RULES = "Local rules and the makers' instructions come first."
SHEARS = (
    "Shears and knives: cut away from the holding hand, close the blades before laying them down, never hand them"
    f" over open. {RULES}"
)
NEEDLES = "Count needles and pins out and in again before every fitting; a lost one is found before work goes on."
IRON = (
    "Iron and steam burn: keep the hand out of the steam's way, try heat and moisture on a scrap of this cloth first,"
    f" let the piece cool before moving it, never leave a hot iron. {RULES}"
)
MACHINE = f"Machine: fingers clear of the needle, foot off the treadle while threading, pins drawn before it. {RULES}"
CLEANING = (
    "Cleaning agents: try on a scrap, air the room, keep them from flame and hot iron, wear gloves, never mix two."
    f" {RULES}"
)


@dataclass(frozen=True)
class Present:
    """What there is of one garment."""

    garment: str
    pieces: tuple[CutPiece, ...]
    works: tuple[Work, ...]
    front_edge: FrontEdge

    @cached_property
    def parts(self) -> frozenset[Part]:
        """The parts that are cut."""
        return frozenset(part_of(piece.piece) for piece in self.pieces)

    @cached_property
    def joints(self) -> frozenset[Joint]:
        """What its seams do."""
        return frozenset(work.joint for work in self.works)

    @cached_property
    def _names(self) -> frozenset[str]:
        return frozenset(
            name
            for piece in self.pieces
            for name in (
                *(plain_name(edge.name) for edge in piece.piece.edges),
                *(plain_name(line.name) for line in piece.piece.lines),
                *(mark.name for mark in piece.piece.marks),
                *(notch.name for notch in piece.piece.notches),
            )
        )

    @cached_property
    def line_kinds(self) -> frozenset[LineKind]:
        """The kinds of the lines drawn inside the body."""
        return frozenset(
            line.kind for p in self.pieces if part_of(p.piece) in (Part.BODY, Part.TOP) for line in p.piece.lines
        )

    def has(self, *parts: Part) -> bool:
        """Whether any of the parts is cut."""
        return not self.parts.isdisjoint(parts)

    def named(self, *names: str) -> bool:
        """Whether any piece has an edge, line, mark or stop of one of these names."""
        return not self._names.isdisjoint(names)

    def begins(self, beginning: str) -> bool:
        """Whether any piece has an edge, line, mark or stop whose name begins so."""
        return any(name.startswith(beginning) for name in self._names)


def always(present: Present) -> bool:
    """Stands whatever is cut."""
    return True


@dataclass(frozen=True)
class Task:
    """A step of one garment's work; it falls away when `when` says that nothing is there for it.

    `after` are steps that must be done before it, `rather_after` those that custom puts before it unless the cut's
    own seams say otherwise. `sews` are the joints whose seams it sews, `parts` and `pieces` what it handles.
    """

    name: str
    text: str
    after: tuple[str, ...] = ()
    parts: tuple[Part, ...] = ()
    pieces: tuple[str, ...] = ()
    sews: tuple[Joint, ...] = ()
    rather_after: tuple[str, ...] = ()
    when: Callable[[Present], bool] = always
    caution: str = ""
    checks: tuple[str, ...] = ()

    def handles(self, piece: CutPiece) -> bool:
        """Whether a piece is worked on in it."""
        return part_of(piece.piece) in self.parts or piece.piece.name in self.pieces


def having(*parts: Part) -> Callable[[Present], bool]:
    """Returns the condition that one of the parts is cut."""
    return lambda present: present.has(*parts)


def sewing(*joints: Joint) -> Callable[[Present], bool]:
    """Returns the condition that one of the joints is there to sew."""
    return lambda present: not present.joints.isdisjoint(joints)


def cutting(name: str, text: str, after: tuple[str, ...], part: Part) -> Task:
    """Returns the step in which one part is cut, where there is any of it."""
    return Task(name, text, after, (part,), when=having(part), caution=SHEARS)
