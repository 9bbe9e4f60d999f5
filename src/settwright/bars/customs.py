"""The trade's customs: what the bars should do at each seam, and how much it matters.

One table by the seam's name (docs/names.md); a new cut's seams need a row here and nothing else. Whatever the person
decides comes on top of it. Sources: matching on the seam line, closing, centre back, shoulder and skirt from *School
Needlework*, Butterick's *New Dressmaker* (1911 to 1921) and Goodheart-Willcox's *Successful Sewing*; the rest is common
practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from settwright.bars.model import Importance, Mode

ON, MIRROR, NONE = Mode.CONTINUE, Mode.MIRROR, Mode.NONE


@dataclass(frozen=True)
class Custom:
    """What the trade does at one seam or touch.

    `stretch`: the first pair of stops that the seam has; empty: from end to end. `first`: the stop where a match
    counts most, for the eye or because shape forbids the rest; samples weigh less the farther they lie from it.
    `level_at`, `upright_at`: a stop where bars must meet. `hard`: level bars must meet along the whole stretch.
    """

    seam: str
    level: Mode
    upright: Mode
    importance: Importance
    weight: int  # tenths
    stretch: tuple[tuple[str, str], ...] = ()
    hard: bool = False
    first: str = ""
    level_at: str = ""
    upright_at: str = ""
    of: str = ""  # of seams whose first piece is this one only


ALWAYS, IF_POSSIBLE, LET_GO, HIDDEN = (
    Importance.ALWAYS,
    Importance.IF_POSSIBLE,
    Importance.LET_GO,
    Importance.HIDDEN,
)

# a dart or the bust's curve parts the bars above; a waist seam ends them below
BELOW_BUST = (("under-bust", "hem"), ("waist", "hem"), ("waist", "under-bust"), ("waist", "bust"))
LAPPED = (("hem", "break-point"), ("waist", "break-point"))

_SLEEVE_FRONT = Custom(
    "sleeve-front",
    ON,
    NONE,
    ALWAYS,
    90,
    (("forearm-top", "front-pitch"),),
    first="front-pitch",
    level_at="front-pitch",
)

CUSTOMS: tuple[Custom, ...] = (
    # jacket
    Custom("centre-back", ON, ON, ALWAYS, 100, hard=True, first="blade"),
    Custom("closing", ON, ON, ALWAYS, 100, LAPPED, hard=True, level_at="hem", upright_at="hem"),
    _SLEEVE_FRONT,
    Custom(
        "collar-on-back",
        ON,
        ON,
        ALWAYS,
        80,
        (("centre-back", "collar-third"),),
        first="centre-back",
        level_at="centre-back",
        of="top-collar",  # a shawl's bars cross the back's at an angle
    ),
    Custom("flap", ON, ON, ALWAYS, 60, first="front-end", level_at="front-end", upright_at="front-end"),
    Custom("buttonhole-upper", ON, ON, ALWAYS, 20, first="outer", upright_at="outer"),
    Custom("buttonhole-lower", ON, ON, ALWAYS, 20, first="outer", upright_at="outer"),
    Custom("side-front", ON, ON, ALWAYS, 60, BELOW_BUST, hard=True, first="hip"),
    Custom("side-back", ON, ON, ALWAYS, 50, hard=True, first="hip"),
    # over the shoulder the front stands upside down to the back: their bars go on where they mirror
    Custom("shoulder", NONE, MIRROR, IF_POSSIBLE, 30),
    # as if the facing were cut in one with the front
    Custom(
        "facing-lapel",
        ON,
        ON,
        IF_POSSIBLE,
        30,
        first="break-point",
        level_at="break-point",
        upright_at="break-point",
    ),
    Custom("side", ON, ON, ALWAYS, 60, (("waist", "hem"), ("hip", "hem")), hard=True, first="hip"),
    Custom("side-2", ON, NONE, IF_POSSIBLE, 20),  # beyond a dart, which parts the bars
    Custom("side-shoulder", NONE, MIRROR, IF_POSSIBLE, 30),
    replace(_SLEEVE_FRONT, seam="sleeve-side-front"),
    Custom("sleeve-side-back", ON, NONE, IF_POSSIBLE, 12, (("back-pitch", "hindarm-top"),), first="back-pitch"),
    Custom("sleeve-back", ON, NONE, IF_POSSIBLE, 12, (("back-pitch", "hindarm-top"),), first="back-pitch"),
    Custom("hindarm", ON, NONE, IF_POSSIBLE, 12, first="elbow"),
    Custom("forearm", ON, ON, IF_POSSIBLE, 8, first="elbow"),
    Custom("under-sleeve-back", ON, NONE, LET_GO, 2),
    Custom("under-sleeve-side", ON, NONE, LET_GO, 1),
    Custom("under-sleeve-front", ON, NONE, LET_GO, 2),
    Custom("under-sleeve-side-back", ON, NONE, LET_GO, 2),
    Custom("under-sleeve-side-front", ON, NONE, LET_GO, 2),
    Custom("sleeve-underarm", ON, NONE, LET_GO, 2),
    Custom("sleeve-underarm-upper", ON, NONE, LET_GO, 2),
    Custom("sleeve-underarm-lower", ON, NONE, LET_GO, 2),
    # sleeves that take the shoulder with them: level bars from the body into the sleeve, and over the arm
    Custom("raglan-front", ON, NONE, IF_POSSIBLE, 40, first="armhole"),
    Custom("raglan-back", ON, NONE, IF_POSSIBLE, 20, first="armhole"),
    Custom("overarm", ON, NONE, IF_POSSIBLE, 20, first="shoulder-point"),
    # collars that stand, or grow from the front
    Custom("stand-collar-back", NONE, ON, IF_POSSIBLE, 30, first="nape"),
    Custom("stand-collar-centre-back", ON, ON, ALWAYS, 80),
    Custom("facing-centre-back", ON, NONE, ALWAYS, 80),  # a shawl's grain slants there
    # skirt
    Custom("skirt-centre-back", ON, ON, ALWAYS, 90, hard=True, first="hem"),
    Custom("skirt-side", ON, ON, ALWAYS, 60, (("hip", "hem"),), hard=True, first="hip"),
    Custom(
        "jacket-over-skirt-front",
        ON,
        ON,
        ALWAYS,
        40,
        first="centre-front",
        level_at="centre-front",
        upright_at="centre-front",
    ),
    Custom("jacket-over-skirt-back", ON, ON, IF_POSSIBLE, 40, first="centre-back"),
    Custom("waist", NONE, ON, LET_GO, 5),
    Custom("top-centre-back", ON, ON, LET_GO, 2),  # worn under a jacket
    Custom("top-side-upper", ON, NONE, LET_GO, 2),
    Custom("top-side-lower", ON, NONE, LET_GO, 2),
    # trousers
    Custom("trousers-side", ON, ON, ALWAYS, 60, (("hip", "hem"),), hard=True, first="hip"),
    Custom("trousers-inseam", ON, NONE, IF_POSSIBLE, 20, (("knee", "hem"),), first="knee"),
    Custom("trousers-crotch", ON, ON, ALWAYS, 60, first="fly-end", level_at="fly-end"),
    Custom("trousers-seat", ON, ON, ALWAYS, 60, (("waist", "hip"),), first="hip", level_at="hip"),
    Custom("trousers-pocket", ON, ON, ALWAYS, 50),
    Custom("pocket-side", ON, ON, IF_POSSIBLE, 10, first="pocket-end"),
    Custom("trousers-band-centre-back", ON, ON, IF_POSSIBLE, 20),
    Custom("trousers-waist-front", NONE, ON, LET_GO, 5),
    Custom("trousers-waist-back", NONE, ON, LET_GO, 5),
    Custom("jacket-over-trousers-front", ON, NONE, IF_POSSIBLE, 20),
    Custom("jacket-over-trousers-back", ON, NONE, IF_POSSIBLE, 20),
    # what is set on or let in: hidden in the bars beneath, the front end first where a dart spoils one end
    Custom("patch-pocket", ON, ON, ALWAYS, 60, first="front-end", level_at="front-end", upright_at="front-end"),
    Custom("welt", ON, ON, ALWAYS, 50, first="front-end", level_at="front-end", upright_at="front-end"),
    *(Custom(vent, ON, ON, ALWAYS, 60, hard=True, first="hem") for vent in ("back-vent", "side-vent", "skirt-vent")),
    Custom("sleeve-vent", ON, NONE, IF_POSSIBLE, 12, first="hem"),
    # folds that are seen side by side lie on the same bar, those that meet behind mirror
    Custom("pleats-at-side", ON, ON, ALWAYS, 60, hard=True, first="hem", upright_at="hem"),
    Custom("pleats-behind", ON, MIRROR, ALWAYS, 60, hard=True, first="hem"),
    Custom("buttonhole-patch", ON, ON, IF_POSSIBLE, 20),
    Custom("covered-button", ON, ON, IF_POSSIBLE, 10),
    # sections: the body goes on above them where nothing is taken in between
    Custom("yoke", NONE, ON, IF_POSSIBLE, 30),
    Custom("waist-seam", NONE, ON, IF_POSSIBLE, 30),
    Custom("waist-back", NONE, ON, IF_POSSIBLE, 30),
    Custom("waist-side", NONE, ON, IF_POSSIBLE, 20),
    Custom("waist-side-back", NONE, ON, IF_POSSIBLE, 20),
    Custom("waist-side-front", NONE, ON, IF_POSSIBLE, 20),
    Custom("waist-front", NONE, ON, IF_POSSIBLE, 30),
    Custom("centre-back-lower", ON, ON, ALWAYS, 90, first="hem"),
    Custom("closing-lower", ON, ON, ALWAYS, 100, level_at="hem", upright_at="hem"),
    Custom("side-lower", ON, ON, ALWAYS, 50, first="hem"),
    Custom("side-back-lower", ON, ON, ALWAYS, 50, first="hem"),
    Custom("side-front-lower", ON, ON, ALWAYS, 50, first="hem"),
    Custom("princess-back-lower", ON, ON, ALWAYS, 50, first="hem"),
    Custom("princess-front-lower", ON, ON, ALWAYS, 50, first="hem"),
    Custom("princess-front", ON, ON, ALWAYS, 60, BELOW_BUST, hard=True, first="hip"),
    Custom("princess-back", ON, ON, ALWAYS, 50, hard=True, first="hip"),
    # hidden, or bars that cross at an angle
    Custom("under-collar-centre-back", NONE, NONE, HIDDEN, 0),
    Custom("collar-outer", NONE, NONE, HIDDEN, 0),
    Custom("collar-end", NONE, NONE, HIDDEN, 0),
    Custom("gorge", NONE, NONE, HIDDEN, 0),
    Custom("neck", NONE, NONE, HIDDEN, 0),
    Custom("stand-collar-front", NONE, NONE, HIDDEN, 0),
    Custom("stand-collar-facing-centre-back", NONE, NONE, HIDDEN, 0),
    Custom("facing-front-edge", NONE, NONE, HIDDEN, 0),
    Custom("facing-lapel-top", NONE, NONE, HIDDEN, 0),
    Custom("facing-gorge", NONE, NONE, HIDDEN, 0),
    Custom("facing-neck", NONE, NONE, HIDDEN, 0),
    Custom("facing-shoulder", NONE, NONE, HIDDEN, 0),
)

# A seam that lies hidden where a pleat turns back: its pieces' folds are matched instead.
BEHIND_A_PLEAT = Custom("behind a pleat", ON, NONE, LET_GO, 2)

# A stretch of the cap that holds no pitch (a princess seam parts the armhole): the cap rounds away from the bars there.
BEYOND_THE_PITCH = Custom("beyond the pitch", ON, NONE, LET_GO, 2)

# A right and a left half are cut alike, and a whole piece reads alike from its middle outwards.
PAIR = Custom("pair", ON, MIRROR, ALWAYS, 100, hard=True)
# The edge along which a pair is compared; any other piece: its first edge.
PAIR_EDGES = {
    "back": "hem",
    "side": "hem",
    "front": "lapel",
    "upper-sleeve": "hem",
    "under-sleeve": "hem",
    "front-facing": "lapel",
    "flap": "bottom",
    "skirt-back": "hem",
}

# What a word of the person's makes of a join: weight in tenths, and whether its level bars must meet.
WORDS: dict[Importance, tuple[int, bool]] = {
    ALWAYS: (100, True),
    IF_POSSIBLE: (30, False),
    LET_GO: (2, False),
    HIDDEN: (0, False),
}

# The trade's two orders: pieces in the order in which they are laid against those already cut.
FROM_THE_BACK = (
    "back", "top-collar", "stand-collar", "side-back", "side", "side-front", "front", "back-lower", "side-back-lower",
    "side-lower", "side-front-lower", "front-lower", "front-facing", "flap", "welt", "patch-pocket", "upper-sleeve",
    "sleeve", "front-sleeve", "back-sleeve", "under-sleeve", "skirt-back", "skirt-front", "trousers-back",
    "trousers-front", "waistband",
)  # fmt: skip
FROM_THE_FRONT = (
    "front", "front-lower", "front-facing", "flap", "welt", "patch-pocket", "side-front", "side-front-lower", "side",
    "side-lower", "side-back", "side-back-lower", "back", "back-lower", "top-collar", "stand-collar", "upper-sleeve",
    "sleeve", "front-sleeve", "back-sleeve", "under-sleeve", "skirt-front", "skirt-back", "trousers-front",
    "trousers-back", "waistband",
)  # fmt: skip


def custom_of(seam: str) -> Custom | None:
    """Returns the custom for a seam by its name without the hand; None where the trade has none.

    Numbered seams ("waist-2") follow the custom of their first word; whatever is said of a buttonhole's patch or a
    covered button ("buttonhole-patch-lower-2"), that of all.
    """
    for every in ("buttonhole-patch", "covered-button"):
        if seam.startswith(every):
            seam = every
    for custom in CUSTOMS:
        if custom.seam == seam:
            return custom
    stem, _, number = seam.rpartition("-")
    return custom_of(stem) if stem and number.isdigit() else None
