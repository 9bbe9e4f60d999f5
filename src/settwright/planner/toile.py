"""A commission's toile: the same body and design from plain cloth, so that its fit is known before the cloth is cut."""

from __future__ import annotations

from dataclasses import replace

from settwright.cloth import Bar, Cloth, Sequence
from settwright.commission.design import FrontEdge
from settwright.commission.model import Commission, Cutting, Stage
from settwright.findings import Finding, Weight


def as_asked(commission: Commission) -> Commission:
    """Returns the commission of what is cut now: the toile where one is asked for, else the commission itself."""
    return _of_toile(commission) if commission.choices.cutting is Cutting.TOILE else commission


def _of_toile(commission: Commission) -> Commission:
    """Returns the commission with the toile's cloth for a shell, and nothing that speaks of bars or of cut pieces."""
    named = next((cloth for cloth in commission.cloths if cloth.name == "toile"), None)
    findings = list(commission.findings)
    if named is None:
        findings.append(
            Finding(
                Weight.DEFAULT,
                "cloths.toile",
                "no cloth is named for the toile; calico of 150 cm width was taken.",
                "Name the toile's cloth, with its width, among the cloths.",
            )
        )
    jacket = commission.jacket
    if jacket is not None and jacket.front_edge is FrontEdge.TO_NECK:
        jacket = replace(jacket, neck_edge_hollow=0.0)  # the neck's edge is drawn straight, as the garment's is
    jacket = jacket and replace(jacket, front_edge=FrontEdge.SEPARATE)
    return replace(
        commission,
        title=f"Toile: {commission.title}",
        jacket=jacket,
        cloths=(replace(named or _CALICO, name="shell"),),
        choices=replace(commission.choices, stage=Stage.BEFORE_FITTING),
        pins=(),
        importance=(),
        cut=(),
        found=(),
        findings=tuple(findings),
    )


_PLAIN = Sequence((Bar("ecru", "ecru", 10.0),))
_CALICO = Cloth(
    name="toile",
    title="Calico",
    colours=(("ecru", "#e9e1cd"),),
    warp=_PLAIN,
    weft=_PLAIN,
    width=1500.0,
    selvedge=10.0,
    thickness=0.3,
    weave="plain",
)
