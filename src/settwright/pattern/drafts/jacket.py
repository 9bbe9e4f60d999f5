"""The jacket, put together from body, front, collar, facing and sleeve, each by the cut that the design names."""

from __future__ import annotations

from settwright.body import Body
from settwright.commission.design import JacketDesign
from settwright.pattern.drafts.bodice import draw_bodice
from settwright.pattern.drafts.bodies import draw_body
from settwright.pattern.drafts.collar_lines import TurnOfCloth
from settwright.pattern.drafts.collars import draw_collars
from settwright.pattern.drafts.facings import draw_facings
from settwright.pattern.drafts.frame import Frame, draw_frame, known_figures
from settwright.pattern.drafts.fronts import draw_front
from settwright.pattern.drafts.low_shoulder import lowered
from settwright.pattern.drafts.lower import with_waist_seam
from settwright.pattern.drafts.neckline import opened_at_the_neck
from settwright.pattern.drafts.parts import Parts, walked, with_dart_beside
from settwright.pattern.drafts.pocket import draw_pocket, has_pockets
from settwright.pattern.drafts.record import Recorder
from settwright.pattern.drafts.sleeves import with_sleeves, with_sleeves_from_the_neck
from settwright.pattern.drafts.vents import with_vents
from settwright.pattern.piece import Draft, Side


def draft_jacket(body: Body, design: JacketDesign, thickness: float, shoulder_drop: float = 0.0) -> Draft:
    """Returns the jacket's draft: right halves in one frame (x from the centre back, y from the waist), collars and
    facings in the frame they are drawn in. `thickness` is that of the shell cloth; `shoulder_drop` is by how much the
    half's shoulder lies lower than the other one.

    Raises Refusal that names the measurement or choice from which no jacket can be drawn.
    """
    r = Recorder(known_figures(body, design))
    turn = TurnOfCloth.of(thickness)
    frame = opened_at_the_neck(r, draw_frame(r, design), design)
    front = draw_front(r, frame, design)
    bodice = draw_bodice(r, frame, design, front.heading, front.corner)
    kind = design.pocket if has_pockets(design) else None
    twins = [frame.centre_front - mark.at.x for mark in front.marks if mark.name.startswith("twin-button")]
    pocket = draw_pocket(r, frame, bodice.seams[-1][1].right, kind, max(twins, default=0.0)) if kind else None
    half = lowered(r, frame, bodice, design, shoulder_drop)
    shell = draw_body(r, half.frame, half.bodice, front, design, dart_end=pocket.level if pocket else 0.33 * frame.hip)
    collars = draw_collars(r, frame, bodice, front, design, turn=turn)
    facings = draw_facings(r, frame, bodice, front, design, turn=turn)
    jacket = with_sleeves(half.on_body(shell), bodice.armhole, body, design).plus(
        collars, half.on_facings(facings), pocket.parts() if pocket else Parts()
    )
    jacket = with_sleeves_from_the_neck(jacket, half.bodice.armhole, body, design)
    jacket = with_dart_beside(jacket, Side("front", front.neck.name), "gorge-dart")
    if design.waist_seam:
        jacket = with_waist_seam(r, frame, design, jacket)
    jacket = with_vents(r, jacket)
    pieces = jacket.drawn()
    return Draft(
        name="jacket",
        pieces=pieces,
        seams=(*walked(pieces, jacket.joinings), *jacket.seams),
        touches=jacket.touches,
        record=(*r.steps, *jacket.steps),
        levels=_levels(body, frame),
    )


def _levels(body: Body, frame: Frame) -> tuple[tuple[str, float], ...]:
    floor = body["waist_height"]
    named = (
        ("nape", frame.nape.y),
        ("scye", frame.scye),
        ("bust", frame.bust),
        ("waist", 0.0),
        ("hip", frame.hip),
        ("jacket-hem", frame.hem),
    )
    return tuple((name, floor + y) for name, y in named)
