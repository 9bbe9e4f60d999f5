"""The measurements' terms and definitions against the standards, as public pages reproduce them.

Terms, clauses and definitions of ISO 8559-1:2017 as a public page of measurement definitions lists them beside its own
(seen; definitions here in our words), of the knee from a second public text; the list of ISO 8559:1989 as reproduced in
*Anthropometry, Apparel Sizing and Design*, table 4.1, page 96 (seen). The bust from EN 13402-1 as well (seen).
"""

from __future__ import annotations

import pytest

from settwright.body.catalogue import CATALOGUE

# measure: clause, term, and what its definition turns on, in words that ours must have
SEEN = {
    "neck_base_girth": ("5.3.3", "neck base girth", ("base of the neck", "nape bone", "in front")),
    "bust_girth": ("5.3.4", "bust girth", ("level", "fullest part of the bust", "bra", "breathing")),
    "waist_girth": ("5.3.10", "waist girth", ("between the lowest rib and the hip bone",)),
    "hip_girth": ("5.3.13", "hip girth", ("level", "fullest part of the seat")),
    "upper_arm_girth": ("5.3.16", "upper-arm girth", ("round", "upper arm")),
    "wrist_girth": ("5.3.19", "wrist girth", ("wrist bone",)),
    "thigh_girth": ("5.3.20", "thigh girth", ("level", "thickest", "under the seat")),
    "knee_girth": ("5.3.22", "knee girth", ("middle of the knee cap",)),
    "back_waist_length": ("5.4.5", "back neck point to waist", ("nape bone", "waist")),
    "arm_length": ("5.7.8", "outer arm length", ("shoulder point", "wrist bone")),
}
# of the others, those in the list of 1989 under the same words but for "length"
OF_1989 = {
    "height": "height",
    "shoulder_length": "shoulder length",
    "scye_depth": "scye depth",
    "across_back_width": "back width",
    "neck_point_to_bust_point": "neck shoulder point to breast point",
    "upper_arm_length": "upper arm length",
    "elbow_girth": "elbow girth",
    "waist_to_hip": "waist to hips",
    "waist_height": "waist height",
    "crotch_height": "inside leg length/crotch height",
}
# in neither: from memory, or a tailor's own
UNSEEN = {"shoulder_slope", "across_front_width", "front_waist_length", "bust_point_width", "waist_to_knee"}
# Differences of principle: the standard takes the upper arm midway between shoulder point and elbow, the tailor its
# thickest part, which the sleeve must pass; the standard's arm hangs, the tailor's is slightly bent, as a sleeve is.
BY_NAME = {definition.name: definition for definition in CATALOGUE}


@pytest.mark.parametrize("name", SEEN)
def test_a_term_that_was_seen_has_its_clause_and_its_definition(name: str) -> None:
    clause, term, words = SEEN[name]
    definition = BY_NAME[name]
    assert (definition.clause, definition.term) == (clause, term)
    assert all(word in definition.how.lower() for word in words)


def test_no_other_term_claims_a_clause() -> None:
    assert {definition.name for definition in CATALOGUE if definition.clause} == set(SEEN)
    assert all(definition.term for definition in CATALOGUE)
    assert set(SEEN) | set(OF_1989) | UNSEEN == set(BY_NAME)


@pytest.mark.parametrize("name", OF_1989)
def test_terms_of_the_older_list_are_the_same_in_substance(name: str) -> None:
    listed, definition = OF_1989[name], BY_NAME[name]
    ours = f"{definition.title} {definition.term}"
    assert any(word in ours for word in listed.split("/"))
