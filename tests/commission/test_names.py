"""The ids that a commission may speak of: those of the drafts, all of them and no others, and those of the page."""

import re
from functools import cache
from pathlib import Path

from settwright.commission import names, read_commission
from settwright.commission.design import FrontEdge, JacketDesign
from settwright.commission.handwork import Closures
from settwright.makeup import Fastenings, Hand, MadeUp, MakeUpCloths, Stage, make_up
from settwright.makeup.facing import with_extended_facing
from settwright.pattern import Cut, Draft
from settwright.pattern.drafts.jacket import draft_jacket
from settwright.pattern.drafts.skirt import draft_skirt
from settwright.pattern.drafts.trousers import draft_trousers
from tests.bodies import completed_bodies
from tests.cuts import JACKETS, SKIRTS, TROUSERS

PAGE = (Path(__file__).parents[2] / "docs" / "names.md").read_text()
HEAD = """
format = 1
[measurements]
height = 170
bust_girth = 92
waist_girth = 74
hip_girth = 98
[cloths.shell]
width = 150
colours = { navy = "#112233", ivory = "#ddddcc" }
warp = ["navy 40 mm", "ivory 30 mm"]
weft = "navy"
"""


@cache
def drafts() -> tuple[Draft, ...]:
    slight, full = completed_bodies()[0], completed_bodies()[88]
    found: list[Draft] = []
    for text in JACKETS.values():
        design = read_commission(f"{HEAD}[jacket]\n{text}", "suit.toml").jacket
        assert design is not None
        for body in (slight, full):
            draft = draft_jacket(body, design, 0.9)
            found.append(with_extended_facing(draft) if design.front_edge is not FrontEdge.SEPARATE else draft)
    for text in SKIRTS.values():
        design = read_commission(f"{HEAD}[skirt]\n{text}", "suit.toml").skirt
        assert design is not None
        found += [draft_skirt(body, design, 230.0) for body in (slight, full)]
    for text in TROUSERS.values():
        design = read_commission(f"{HEAD}[trousers]\n{text}", "suit.toml").trousers
        assert design is not None
        found += [draft_trousers(body, design) for body in (slight, full)]
    return tuple(found)


def without_hand(name: str) -> str:
    return name.removesuffix(".right").removesuffix(".left")


def test_every_id_of_the_drafts_may_be_spoken_of() -> None:
    listed = {piece.name: piece for piece in names.PIECES}
    for draft in drafts():
        for piece in draft.pieces:
            name = listed[piece.name]
            assert name.garment == draft.name
            assert name.cut in ("either", "pair" if piece.cut is Cut.PAIR else "whole"), piece.name
            for edge in (*piece.edges, *piece.lines):
                stops = names.stops_of(name, without_hand(edge.name))
                assert stops is not None, f"{piece.name}.{edge.name}"
                own = {edge.start, edge.end, *(n.name for n in piece.notches if n.edge == edge.name)} - {"start", "end"}
                assert all(names.is_among(stop, stops) for stop in own), f"{piece.name}.{edge.name}: {own} {stops}"
            assert all(names.is_among(without_hand(mark.name), name.marks) for mark in piece.marks), piece.name
        for join in (*draft.seams, *draft.touches):
            assert names.is_among(join.name, names.ACROSS if join.across else names.HANDED), join.name


@cache
def covered() -> MadeUp:
    """A jacket with covered buttons: their covers are no draft's."""
    return make_up(
        (draft_jacket(completed_bodies()[0], JacketDesign(), 0.9),),
        front_edge=FrontEdge.SEPARATE,
        front_laps_over=Hand.RIGHT,
        stage=Stage.AFTER_FITTING,
        cloths=MakeUpCloths(),
        thickness=0.9,
        fastenings=Fastenings(Closures(covered_buttons=True)),
    )


def test_nothing_may_be_spoken_of_that_no_draft_has() -> None:
    drawn: dict[str, set[str]] = {}
    marks: set[str] = set()
    first_cover = covered().piece("button-cover-1").piece
    for piece in (first_cover, *(piece for draft in drafts() for piece in draft.pieces)):
        edges = drawn.setdefault(piece.name, set())
        edges.update(without_hand(edge.name) for edge in (*piece.edges, *piece.lines))
        marks.update(without_hand(mark.name) for mark in piece.marks)
    assert {piece.name for piece in names.PIECES} == set(drawn)
    missing = [
        f"{piece.name}.{edge}"
        for piece in names.PIECES
        for edge, _ in piece.edges
        if not any(names.is_among(own, (edge,)) for own in drawn[piece.name])
    ]
    assert not missing
    for piece in names.PIECES:
        assert all(any(names.is_among(own, (mark,)) for own in marks) for mark in piece.marks), piece.name
    joins = {join.name for draft in drafts() for join in (*draft.seams, *draft.touches)}
    # of two garments, or of what fastens one: no single draft's
    made = ("jacket-over", "buttonhole-", "covered-button-")
    derived = {name for name in (*names.ACROSS, *names.HANDED) if name.startswith(made)}
    assert not [
        name
        for name in (*names.ACROSS, *names.HANDED)
        if name not in derived and not any(names.is_among(join, (name,)) for join in joins)
    ]


def test_the_page_lists_every_id() -> None:
    words = set(re.findall(r"[a-z0-9]+(?:-[a-z0-9]+)*", PAGE))
    for piece in names.PIECES:
        assert f"`{piece.name}`" in PAGE, piece.name
        for edge, stops in piece.edges:
            assert {name.replace("#", "1") for name in (edge, *stops)} <= words, f"{piece.name}.{edge}"
    assert "`waist-front-1` …, `waist-back-1` …" in PAGE
    seams = PAGE[PAGE.index("## Seams") : PAGE.index("## Measurements")]
    ids = set(re.findall(r"[a-z0-9]+(?:-[a-z0-9]+)*", seams + PAGE[PAGE.index("## Trousers") :]))
    # the first covered button is what the others are joined to
    missing = [name for name in (*names.ACROSS, *names.HANDED) if not {name.replace("#", n) for n in "12"} & ids]
    assert not missing


def test_what_only_the_make_up_cuts_may_be_marked_as_cut() -> None:
    names_cut = [piece.name for piece in covered().pieces if piece.name.startswith("button-cover-")]
    entries = "".join(
        f'[[cut]]\npiece = "{name}"\nfrom_left = 50\nfrom_end = 50\n'
        for name in (*names_cut, "buttonhole-lip-1-upper", "buttonhole-lip-12-lower")
    )
    commission = read_commission(f"{HEAD}[jacket]\n{entries}", "suit.toml")
    assert [entry.placed.piece for entry in commission.cut][: len(names_cut)] == names_cut
