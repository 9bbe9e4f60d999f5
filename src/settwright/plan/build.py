"""Turns a plan's values into its document, coordinates rounded to 0.001 mm."""

from __future__ import annotations

from importlib.metadata import version

from settwright.bars.model import Drift, Join, Orientation
from settwright.cloth import Cloth, Sequence
from settwright.geometry import ORIGIN, Path, Point
from settwright.makeup.model import BY_THE_LENGTH, CutPiece
from settwright.plan.document import (
    FORMAT,
    XY,
    BarDocument,
    ClothDocument,
    CycleDocument,
    EdgeDocument,
    FaultDocument,
    FindingDocument,
    JoinDocument,
    MarkDocument,
    MeasureDocument,
    OriginDocument,
    PhaseDocument,
    PieceDocument,
    PlacementDocument,
    PlanDocument,
    ReckoningDocument,
    SequenceDocument,
    SideDocument,
    StopDocument,
)
from settwright.plan.plan import ClothPlan, Plan


def document_of(plan: Plan) -> PlanDocument:
    """Returns the document of a plan."""
    drifts = {drift.join: drift for drift in plan.match.drifts}
    return PlanDocument(
        format=FORMAT,
        title=plan.commission.title,
        made_by=f"settwright {version('settwright')}",
        unit="mm",
        stage=str(plan.commission.choices.stage),
        front_laps_over=str(plan.commission.choices.front_laps_over),
        body=tuple(
            MeasureDocument(m.name, _rounded(m.value, 6), str(m.source), m.how, _rounded(m.spread))
            for m in plan.body.measures
        ),
        cloths=tuple(_cloth(cloth) for cloth in plan.cloths),
        pieces=tuple(_piece(piece, plan) for piece in plan.made_up.pieces if piece.cloth != BY_THE_LENGTH),
        joins=tuple(_join(join, drifts[join.name]) for join in plan.match.joins),
        cycles=tuple(CycleDocument(cycle.joins, _rounded(cycle.closing)) for cycle in plan.match.cycles),
        placements=tuple(
            PlacementDocument(p.name, cloth.cloth.name, _rounded(p.x), _rounded(p.y), *_lying(Orientation(p.t, p.f)))
            for cloth in plan.cloths
            for p in cloth.layout.placements
        ),
        findings=tuple(FindingDocument(str(f.weight), f.where, f.what, f.remedy) for f in plan.findings),
    )


def _rounded(value: float, digits: int = 3) -> float:
    return round(float(value), digits) + 0.0  # + 0.0 turns −0.0 into 0.0


def _xy(point: Point) -> XY:
    return (_rounded(point.x), _rounded(point.y))


def _points(path: Path) -> tuple[XY, ...]:
    return tuple(_xy(point) for point in path.points())


def _lying(orientation: Orientation) -> tuple[bool, str]:
    return orientation.t < 0, "wrong" if orientation.f < 0 else "right"


def _sequence(sequence: Sequence, matters: bool) -> SequenceDocument:
    return SequenceDocument(
        bars=tuple(BarDocument(bar.name, bar.colour, bar.width) for bar in sequence.bars),
        repeat=sequence.repeat,
        even=sequence.is_even,
        pivots=sequence.pivots,
        matters=matters,
    )


def _cloth(plan: ClothPlan) -> ClothDocument:
    cloth: Cloth = plan.cloth
    reckoning = plan.reckoning
    return ClothDocument(
        name=cloth.name,
        title=cloth.title,
        width=cloth.width,
        selvedge=cloth.selvedge,
        length=_rounded(plan.layout.length),
        sett_origin=OriginDocument(_rounded(cloth.sett_at_left), _rounded(plan.layout.oy)),
        colours=dict(cloth.colours),
        warp=_sequence(cloth.warp, cloth.has_upright_bars),
        weft=_sequence(cloth.weft, cloth.has_level_bars),
        nap=str(cloth.nap),
        faces_alike=cloth.faces_alike,
        weave=cloth.weave,
        thickness=cloth.thickness,
        faults=tuple(FaultDocument(fault.name, fault.outline, fault.may_be_hidden) for fault in cloth.faults),
        reckoning=ReckoningDocument(
            lays_in=_rounded(reckoning.lays_in),
            buy=_rounded(reckoning.buy),
            parts=tuple((name, _rounded(length)) for name, length in reckoning.parts),
            rule_of_thumb=_rounded(reckoning.rule_of_thumb),
            sure_bound=_rounded(reckoning.sure_bound),
        ),
    )


def _piece(cut: CutPiece, plan: Plan) -> PieceDocument:
    phase = plan.phase(cut.name)
    free = not cut.is_matched or phase is None or (phase.free_u and phase.free_v)
    turned, face = _lying(phase.orientation) if phase else (False, "right")
    piece = cut.piece
    edges = [(edge.name, "edge", edge.path, edge.start, edge.end) for edge in piece.edges]
    edges += [(line.name, str(line.kind), line.path, line.start, line.end) for line in piece.lines]
    return PieceDocument(
        name=cut.name,
        title=piece.title,
        garment=cut.garment,
        piece=piece.name,
        hand=str(cut.hand),
        cloth=cut.cloth,
        free=free,
        visible=cut.is_visible,
        grain_mark=_xy(ORIGIN),
        grain_angle=cut.grain_turn,
        turned=turned,
        face=face,
        phase=PhaseDocument(
            u=None if free or phase is None or phase.free_u else _rounded(phase.u),
            v=None if free or phase is None or phase.free_v else _rounded(phase.v),
        ),
        fixed_by=dict(plan.match.reasons).get(cut.name, ""),
        seam_line=tuple(_xy(point) for point in cut.seam_line),
        cutting_line=tuple(_xy(point) for point in cut.cutting_line),
        edges=tuple(
            EdgeDocument(
                name,
                kind,
                _points(path),
                (
                    StopDocument(start, _xy(path.start)),
                    *(StopDocument(n.name, _xy(path.at(n.at))) for n in piece.notches if n.edge == name),
                    StopDocument(end, _xy(path.end)),
                ),
            )
            for name, kind, path, start, end in edges
        ),
        marks=tuple(MarkDocument(mark.name, _xy(mark.at)) for mark in piece.marks),
        later=cut.is_later,
        block=cut.is_block,
        mirrors=cut.mirrors,
    )


def _join(join: Join, drift: Drift) -> JoinDocument:
    return JoinDocument(
        name=join.name,
        kind=join.kind,
        a=SideDocument(join.a, join.a_edge),
        b=SideDocument(join.b, join.b_edge),
        level=str(join.level),
        upright=str(join.upright),
        stretch=join.stretch,
        level_at=join.level_at,
        hard=join.hard,
        importance=str(join.importance),
        weight=join.weight,
        ease=_rounded(join.ease),
        samples=tuple((*_xy(s.a), *_xy(s.b), _rounded(s.weight, 6)) for s in join.samples),
        level_drift=None if drift.level is None else tuple(_rounded(d) for d in drift.level),
        upright_drift=None if drift.upright is None else tuple(_rounded(d) for d in drift.upright),
        floor=_rounded(drift.floor),
        worst_level=_rounded(drift.worst_level),
        worst_upright=_rounded(drift.worst_upright),
        colour=_rounded(drift.colour),
        summary=drift.summary,
    )
