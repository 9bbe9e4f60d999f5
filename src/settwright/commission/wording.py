"""Fields and their values in words, for whoever has no file before her: on the page, in the workbook."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from settwright.commission import choices as readers
from settwright.commission.fields import Fields

FIELDS: Mapping[str, Fields] = {
    "jacket": readers.JACKET,
    "jacket.ease": readers.EASE,
    "skirt": readers.SKIRT,
    "trousers": readers.TROUSERS,
}
"""What is known of a field: its title, and the cuts that it bears on."""

SAYS: Mapping[tuple[str, Any], str] = {
    ("jacket.body_cut", "darted"): "with darts, a seam under the arm",
    ("jacket.body_cut", "side panel"): "with a panel under the arm",
    ("jacket.body_cut", "princess from the shoulder"): "with seams from the shoulders",
    ("jacket.body_cut", "princess from the armhole"): "with seams from the armholes",
    ("jacket.bust_dart", "side"): "in the side seam",
    ("jacket.bust_dart", "shoulder"): "in the shoulder",
    ("jacket.back_shoulder", "ease"): "eased on to the front",
    ("jacket.back_shoulder", "dart"): "taken in by a dart",
    ("jacket.centre_back", "seam"): "a seam",
    ("jacket.centre_back", "fold"): "a fold",
    ("jacket.vent", "none"): "no vent",
    ("jacket.vent", "back"): "a vent at the centre back",
    ("jacket.vent", "sides"): "two side vents",
    ("jacket.waist_seam", False): "it goes on without a seam",
    ("jacket.waist_seam", True): "there is a seam",
    ("jacket.lower_section", "straight"): "a straight section",
    ("jacket.lower_section", "flared"): "a flared section",
    ("jacket.lower_section", "padded hip"): "a section over padded hips",
    ("jacket.front_style", "notched lapel"): "a notched lapel",
    ("jacket.front_style", "peaked lapel"): "a peaked lapel",
    ("jacket.front_style", "shawl"): "a shawl collar",
    ("jacket.front_style", "V neck"): "a V neck",
    ("jacket.front_style", "round neck"): "a round neck",
    ("jacket.front_style", "crossed over"): "fronts that cross over",
    ("jacket.front_edge", "separate"): "a seam, its facing sewn on",
    ("jacket.front_edge", "extended"): "a fold, its facing cut in one",
    ("jacket.front_edge", "extended to the neck"): "a fold up to the neck, its facing folded at the top button",
    ("jacket.closing", "single-breasted"): "single-breasted",
    ("jacket.closing", "double-breasted"): "double-breasted",
    ("jacket.closing", "edge to edge"): "edge to edge",
    ("jacket.front_edge", "split"): "part fold, part seam, its facing split",
    ("jacket.facing_grain", "as the front"): "as in the front",
    ("jacket.facing_grain", "along the edge"): "along the edge",
    ("jacket.facing_grain", "across the edge"): "across the edge",
    ("jacket.stand_halves", True): "cut in two halves",
    ("jacket.stand_halves", False): "cut in one",
    ("jacket.facing_split", None): "nowhere",
    ("jacket.split_button", None): "no button",
    ("jacket.second_split", None): "nowhere",
    ("jacket.elbow_dart", True): "a dart",
    ("jacket.elbow_dart", False): "its fullness eased",
    ("jacket.collar_style", "of the front"): "the front’s own",
    ("jacket.collar_style", "stand"): "a stand collar",
    ("jacket.stand_ends", "round"): "with round ends",
    ("jacket.stand_ends", "square"): "with square ends",
    ("jacket.pockets", "flap"): "covered by flaps",
    ("jacket.pockets", "jetted"): "jetted",
    ("jacket.pockets", "welt"): "under welts",
    ("jacket.pockets", "patch"): "patches",
    ("jacket.flaps", True): "pockets with flaps",
    ("jacket.flaps", False): "no flaps",
    ("jacket.sleeve_cut", "two-piece"): "cut in two pieces",
    ("jacket.sleeve_cut", "one-piece"): "cut in one piece",
    ("jacket.sleeve_cut", "raglan"): "raglan sleeves",
    ("jacket.sleeve_cut", "kimono"): "cut in one with the body",
    ("jacket.sleeve_length", "full"): "full length",
    ("jacket.sleeve_length", "three-quarter"): "three-quarter length",
    ("jacket.sleeve_hem", None): "as the arm asks",
    ("skirt.cut", "straight"): "straight",
    ("skirt.cut", "flared"): "slightly flared",
    ("skirt.cut", "pleated"): "pleated on the bars",
    ("skirt.waist_finish", "waistband"): "a waistband",
    ("skirt.waist_finish", "ribbon"): "a ribbon inside the waist",
    ("skirt.waist_finish", "bodice top"): "a bodice top",
    ("trousers.waist", "band in halves"): "a band in two halves",
    ("trousers.waist", "whole band"): "a band in one",
    ("trousers.waist", "ribbon"): "a ribbon inside and no band",
    ("trousers.fly_lap", "right"): "right",
    ("trousers.fly_lap", "left"): "left",
    ("trousers.pockets", True): "slant pockets",
    ("trousers.pockets", False): "no pockets",
    ("trousers.knee_width", None): "as hip and knee ask",
    ("trousers.hem_width", None): "as the knee asks",
    ("choices.cutting", "body first"): "the body, the rest kept as blocks",
    ("choices.cutting", "toile"): "the toile",
    ("choices.uneven", "round the body"): "round the body in one direction",
    ("choices.uneven", "turn one half"): "mirrored, one half turned",
    ("choices.uneven", "other face"): "mirrored, one half on the other face",
    ("choices.hem_on_a_bar", True): "lies on a bar where it can",
    ("choices.hem_on_a_bar", False): "needn’t lie on a bar",
    ("choices.bar_off_the_fullest", True): "keeps off the fullest part of bust and hip",
    ("choices.bar_off_the_fullest", False): "may lie anywhere",
    ("inside.jacket_lining", "full"): "a lining throughout",
    ("inside.jacket_lining", "half"): "a lining, of the back over the shoulders only",
    ("inside.jacket_lining", "none"): "no lining",
    ("inside.canvas", "full"): "canvas to the hem",
    ("inside.canvas", "half"): "canvas to below the chest",
    ("inside.canvas", "none"): "no canvas",
    ("inside.skirt_lining", True): "a lining",
    ("inside.skirt_lining", False): "no lining",
    ("inside.trousers_lining", "fronts and backs"): "a lining of fronts and backs",
    ("inside.trousers_lining", "fronts"): "a lining of the fronts",
    ("inside.trousers_lining", "none"): "no lining",
    ("inside.underlining", True): "mounted on an underlining",
    ("inside.underlining", False): "cut without an underlining",
    ("cloths.shell.nap", "none"): "no nap",
    ("cloths.shell.nap", "one-way"): "a nap",
    ("cloths.shell.faces_alike", True): "both faces alike",
    ("cloths.shell.faces_alike", False): "a right and a wrong side",
}
"""What stands in the sentence for a value, where the value's own word wouldn't do."""

_KNOWN = tuple(
    dict.fromkeys(
        [*(field for field, _ in SAYS), *(f"{section}.{name}" for section in FIELDS for name in FIELDS[section])]
    )
)
_VALUE = r'(?:"[^"]*"|true\b|false\b|\d+(?:\.\d+)?)'
_WRITTEN = re.compile(rf"\b(?:([Ww])rite )?([a-z]+(?:[_.][a-z]+)*) = ({_VALUE}(?: or {_VALUE})*)")
_PLACE = re.compile(r'\b([a-z_]+) = \{ bar = "([^"]*)", at = "([^"]*)" \}')
_OPEN = re.compile(r"\b([a-z]+(?:_[a-z]+)+) = …")
_DOCUMENT = re.compile(r" ?docs/[\w.-]+ lists [^.]*\.")


def in_words(text: str, of: str = "") -> str:
    """Returns what is said of a commission to one who has no file: a field as written in the file becomes its name and
    what stands in the ticket's sentence. `of` is the dotted field spoken of: its section is looked in first.

    >>> in_words('Split it (front_edge = "split").', "jacket.front_edge")
    'Split it (front edge: “part fold, part seam, its facing split”).'
    """

    def said(found: re.Match[str]) -> str:
        field = _whole(found[2], of)
        if field is None:
            return found[0]
        values = re.findall(_VALUE, found[3])
        verb = "" if found[1] is None else "Choose " if found[1] == "W" else "choose "
        name = field.rpartition(".")[2].replace("_", " ")
        return f"{verb}{name}: {' or '.join(f'“{_value_said(field, value)}”' for value in values)}"

    text = _PLACE.sub(lambda found: f"{found[1].replace('_', ' ')}, the {found[3]} of {found[2]}", text)
    text = _OPEN.sub(lambda found: found[1].replace("_", " "), text)
    return _DOCUMENT.sub("", _WRITTEN.sub(said, text))


def _whole(name: str, of: str) -> str | None:
    """Returns the dotted field that a name means; None where it is none that the ticket tells, or may be several."""
    section = of.partition(".")[0]
    known = [field for field in _KNOWN if field == name or field.endswith(f".{name}")]
    return next((field for field in known if field.startswith(f"{section}.")), known[0] if len(known) == 1 else None)


def _value_said(field: str, written: str) -> str:
    value: Any = {"true": True, "false": False}.get(written, written.strip('"'))
    plain = {True: "yes", False: "no"}[value] if isinstance(value, bool) else value
    return SAYS.get((field, value), plain)
