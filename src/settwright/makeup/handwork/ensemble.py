"""The steps that all garments of a commission share: before the cutting and after the last garment."""

from __future__ import annotations

from settwright.makeup.handwork.roles import Part
from settwright.makeup.handwork.task import CLEANING, IRON, NEEDLES, SHEARS, Task

OTHER_PIECES = "cut the other pieces"
LAST_PRESS = "last press"

BEFORE: tuple[Task, ...] = (
    Task(
        "make the toile",
        "Cut what is fitted, of a jacket the body, one sleeve and the collar's inner layer, from firm calico on the"
        " seam lines, with wide allowances. Draw bust, waist, hip and centre lines on it, and the main bars in pencil"
        " where the plan puts them. Baste, fit and take every correction back to the measurements before the cloth is"
        " touched.",
        parts=(Part.BODY, Part.TOP, Part.SLEEVE),
        pieces=("under-collar", "stand-collar"),
        caution=NEEDLES,
        checks=(
            "Level lines level, centres plumb: the balance of back to front.",
            "Ease at bust, waist and hip as chosen; room to sit, to reach, to breathe.",
            "Of a jacket: shoulder, neck, armhole, sleeve, before width, width before length.",
            "The pencilled bars fall where they flatter; the front's line and the hem please.",
            "Every correction goes back into the measurements, and the plan is made again.",
        ),
    ),
    Task(
        "shrink the cloth",
        "Sponge or steam the whole length, lining and interlining too, and let it dry flat without pulling. It"
        " isn't ready until it has lain overnight.",
        caution=IRON,
    ),
    Task(
        "square the end",
        "Draw a weft thread, or follow one edge of a level bar, and cut the end on it. Lay the cloth flat:"
        " selvedges even, level bars straight across. Coax a skewed cloth true with steam; a bow that stays is"
        " told to the plan.",
        ("shrink the cloth",),
        caution=f"{SHEARS} {IRON}",
    ),
    Task(
        "measure the repeat",
        "With a tape, measure five repeats at a time, of a border one, in both directions, at both ends and"
        " in the middle, and divide. If they differ from the plan's repeat, correct the commission and plan again:"
        " over a jacket's length a small error grows to a visible one.",
        ("square the end",),
    ),
    Task(
        "try on scraps",
        "On the cuttings from the squared end: press dry and damp, try chalk and whether it brushes out, sew two"
        " trial buttonholes where there are to be any, mark the right side and the nap, and note what the cloth took.",
        ("square the end",),
        caution=IRON,
    ),
    Task(
        "lay and chalk the pieces",
        "One layer, right side up. Find each piece's place by counting bars from the squared end and the left"
        " selvedge, check with the tape. Pin along the bars, chalk cutting lines, and compare the ticks on the"
        " seam lines with the bars under them before anything is cut. What is cut later, of a jacket sleeves,"
        " collars, facings and flaps, is chalked as a rough block on its own repeat and left whole.",
        ("make the toile", "measure the repeat", "try on scraps"),
        parts=(Part.BODY, Part.TOP),
        caution=NEEDLES,
    ),
)

OTHER = Task(
    OTHER_PIECES,
    "Cut these when their neighbours are fitted, thread-trace them, and put them in where they belong.",
    caution=SHEARS,
)

AFTER: tuple[Task, ...] = (
    Task(
        LAST_PRESS,
        "Draw the bastings, brush out chalk, press on the right side only through a cloth, section by section,"
        " a jacket's sleeves and lapels last; let each cool where it lies. Hang overnight on a shaped hanger.",
        parts=tuple(part for part in Part if part not in (Part.INTERLINING, Part.STAY)),
        caution=f"{IRON} {CLEANING}",
    ),
    Task(
        "last fitting",
        "Fit the finished garments together, buttoned, over what they will be worn with.",
        (LAST_PRESS,),
        parts=(Part.BODY, Part.TOP),
        caution=NEEDLES,
        checks=(
            "Closings bar on bar, no button pulling. Move the button, never the hole.",
            "Hems even from the floor; what is worn together hangs bar over bar. Correct at the lower waist.",
            "Lining free: no drag at back, hem or sleeve. Undo it there and give more length.",
            "What was let out or moved is entered in the commission for the next garment.",
        ),
    ),
    Task(
        "keep the record",
        "Enter the fittings, mark cut pieces as cut, keep the remnants with a swatch of the repeat: the next"
        " commission begins there.",
        ("last fitting",),
    ),
)
