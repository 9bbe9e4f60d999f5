"""The order of work: what a couture tailor does after what, for the garments at hand.

A step waits for the steps it names, not for a number: a workroom of three can take what is ready. The list comes out
in an order that holds for one pair of hands. Practice of the trade, from memory; times are the person's to set.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from settwright.makeup.model import CutPiece, Step
from settwright.pattern.design import FrontEdge

_BODY = ("back", "side", "front")
_SLEEVES = ("upper-sleeve", "under-sleeve")
_COLLARS = ("under-collar", "top-collar")
_FACINGS = ("front-facing", "back-neck-facing")
_FLAPS = ("flap", "flap-lining")
_SKIRT = ("skirt-front", "skirt-back")
_OTHER = "other pieces"  # those that no step names

_RULES = "Local rules and the makers' instructions come first."
_SHEARS = (
    "Shears and knives: cut away from the holding hand, close the blades before laying them down, never hand them"
    + (f" over open. {_RULES}")
)
_NEEDLES = "Count needles and pins out and in again before every fitting; a lost one is found before work goes on."
_IRON = (
    "Iron and steam burn: keep the hand out of the steam's way, try heat and moisture on a scrap of this cloth first,"
    f" let the piece cool before moving it, never leave a hot iron. {_RULES}"
)
_CLEANING = (
    "Cleaning agents: try on a scrap, air the room, keep them from flame and hot iron, wear gloves, never mix two."
    f" {_RULES}"
)


@dataclass(frozen=True)
class _Task:
    """A step before it is known which pieces there are; it falls away when none of `needs` is cut."""

    name: str
    text: str
    after: tuple[str, ...] = ()
    pieces: tuple[str, ...] = ()
    caution: str = ""
    needs: tuple[str, ...] = ()
    only: FrontEdge | None = None


_TASKS = (
    _Task(
        "make the toile",
        "Cut the body, one sleeve and the under collar from firm calico on the seam lines, with wide allowances."
        " Draw bust, waist, hip and centre lines on it, and the main bars in pencil where the plan puts them."
        " Baste, fit and take every correction back to the measurements before the cloth is touched.",
        pieces=(*_BODY, *_SLEEVES, "under-collar", *_SKIRT),
        caution=_NEEDLES,
    ),
    _Task(
        "shrink the cloth",
        "Sponge or steam the whole length, lining and interlining too, and let it dry flat without pulling. It"
        " isn't ready until it has lain overnight.",
        caution=_IRON,
    ),
    _Task(
        "square the end",
        "Draw a weft thread, or follow one edge of a level bar, and cut the end on it. Lay the cloth flat:"
        " selvedges even, level bars straight across. Coax a skewed cloth true with steam; a bow that stays is"
        " told to the plan.",
        ("shrink the cloth",),
        caution=_IRON,
    ),
    _Task(
        "measure the repeat",
        "With a tape, measure five repeats at a time, in both directions, at both ends and in the middle, and"
        " divide. If they differ from the plan's repeat, correct the commission and plan again: over a jacket's"
        " length a small error grows to a visible one.",
        ("square the end",),
    ),
    _Task(
        "try on scraps",
        "On the cuttings from the squared end: press dry and damp, try chalk and whether it brushes out, sew two"
        " trial buttonholes, mark the right side and the nap, and note what the cloth took.",
        ("square the end",),
        caution=_IRON,
    ),
    _Task(
        "lay and chalk the pieces",
        "One layer, right side up. Find each piece's place by counting bars from the squared end and the left"
        " selvedge, check with the tape. Pin along the bars, chalk cutting lines, and compare the ticks on the"
        " seam lines with the bars under them before anything is cut. Chalk the rough blocks for sleeves, collars,"
        " facings and flaps on their own repeats, and leave them whole.",
        ("make the toile", "measure the repeat", "try on scraps"),
        pieces=(*_BODY, *_SKIRT),
    ),
    _Task(
        "cut the body",
        "Cut the body with its allowances as wide as before the fitting, each piece by itself. Pin its name, hand"
        " and grain on it at once.",
        ("lay and chalk the pieces",),
        pieces=_BODY,
        caution=_SHEARS,
        needs=_BODY,
    ),
    _Task(
        "thread-trace the body",
        "With soft cotton, run every seam line, fold, centre, level and notch through to the right side, corners"
        " crossed. From now on the thread is the pattern; cut edges mean nothing.",
        ("cut the body",),
        pieces=_BODY,
        caution=_NEEDLES,
        needs=_BODY,
    ),
    _Task(
        "stay the neck and armholes",
        "Run a short stitch inside the seam line round neck, armhole and gorge, held to the length on the draft,"
        " so that nothing grows while the body is handled.",
        ("thread-trace the body",),
        pieces=_BODY,
        needs=_BODY,
    ),
    _Task(
        "baste the body",
        "Slip-baste from the right side, one bar at a time: first the centre back, then side-back, side-front and"
        " shoulders last. Where the card of a seam says bars must miss, let them miss there and not elsewhere."
        " Baste the interlining to the fronts, smoothing from the middle out, and lay the pads in.",
        ("stay the neck and armholes",),
        pieces=_BODY,
        caution=_NEEDLES,
        needs=_BODY,
    ),
    _Task(
        "first fitting",
        "Fit over what will be worn under it. Look first at how the level bars hang: they tell balance better"
        " than the seams. Then shoulders, then waist, then the break and roll of the front. Pin, chalk, and write"
        " down what was moved and by how much.",
        ("baste the body",),
        pieces=_BODY,
        caution=_NEEDLES,
        needs=_BODY,
    ),
    _Task(
        "correct the body",
        "Take the body apart, carry the pins' places to both sides by thread, plan again with the fitting"
        " entered, and trim the allowances to what the plan gives after the fitting. Seams that may be let out"
        " later keep theirs.",
        ("first fitting",),
        pieces=_BODY,
        caution=_SHEARS,
        needs=_BODY,
    ),
    _Task(
        "cut the sleeves and flaps",
        "Lay the corrected sleeves on their blocks so that the bars meet the body at the front pitch; lay each"
        " flap on the front itself, bar on bar, and chalk it there.",
        ("correct the body",),
        pieces=(*_SLEEVES, *_FLAPS),
        caution=_SHEARS,
        needs=(*_SLEEVES, *_FLAPS),
    ),
    _Task(
        "sew the darts and front seams",
        "Sew the darts to nothing and press them over a cushion; sew side-front seams on the thread-traced line,"
        " pinned bar by bar, and press them open.",
        ("correct the body",),
        pieces=("front", "side"),
        caution=_IRON,
        needs=_BODY,
    ),
    _Task(
        "make the pockets",
        "Line the flaps, the lining a thread smaller so that it stays under. Baste each flap on its place until"
        " every bar runs through, then sew it and cut the pocket's mouth. Stay the mouth with a strip on the"
        " straight grain.",
        ("sew the darts and front seams", "cut the sleeves and flaps"),
        pieces=("front", *_FLAPS),
        caution=_SHEARS,
        needs=("flap",),
    ),
    _Task(
        "set the interlining",
        "Baste the shaped interlining to each front, the front laid over the hand as it lies over the chest."
        " Catch it along the roll line.",
        ("make the pockets",),
        pieces=("front",),
        caution=_NEEDLES,
        needs=_BODY,
    ),
    _Task(
        "tape the roll line and pad the lapels",
        "Sew a tape along the roll line, a little shorter than the line where the bust needs it held in. Pad-"
        " stitch the lapel over the fingers so that it rolls by itself, the stitches hardly touching the right"
        " side.",
        ("set the interlining",),
        pieces=("front",),
        caution=_NEEDLES,
        needs=_BODY,
    ),
    _Task(
        "tape the front edges",
        "Trim the interlining back to the seam line. Fell a narrow tape round lapel and front edge, easy on the"
        " lapel, close at the break, flat below it. Press from the wrong side.",
        ("tape the roll line and pad the lapels",),
        pieces=("front",),
        caution=_IRON,
        needs=("front",),
        only=FrontEdge.SEPARATE,
    ),
    _Task(
        "stay the fold of the front",
        "Lay a narrow straight tape with its edge on the traced fold from the lapel's point to the hem, and catch"
        " it lightly to the interlining only. Cut it as long as the fold, less what is to be held in. The fold"
        " itself is not pressed yet.",
        ("tape the roll line and pad the lapels",),
        pieces=("front",),
        caution=_NEEDLES,
        needs=("front",),
        only=FrontEdge.EXTENDED,
    ),
    _Task(
        "sew back and side seams",
        "Sew the centre back from the nape down, then side-back seams, a pin through every bar; press open. Stay"
        " the back neck and the shoulders.",
        ("tape the front edges", "stay the fold of the front"),
        pieces=("back", "side", "front"),
        caution=_IRON,
        needs=_BODY,
    ),
    _Task(
        "cut the facings",
        "Lay the facings on their blocks against the finished lapels: bars at the lapel's edge are chosen from"
        " how it really rolls. Keep the turn of cloth that the draft gives.",
        ("tape the front edges", "stay the fold of the front", "first fitting"),
        pieces=_FACINGS,
        caution=_SHEARS,
        needs=_FACINGS,
    ),
    _Task(
        "face the fronts",
        "Baste the facing to the front from the break both ways, easy at the lapel's point above the break and a"
        " shade tight below it, for there the facing is the inner side. Sew, grade, turn, and baste the edge with"
        " the seam rolled to the side that won't be seen.",
        ("cut the facings", "sew back and side seams"),
        pieces=("front", "front-facing"),
        caution=_NEEDLES,
        needs=("front-facing",),
        only=FrontEdge.SEPARATE,
    ),
    _Task(
        "turn the front on its fold",
        "Fold the facing back along the trace, lapel rolled as it will be worn, and baste through near the fold."
        " Sew and turn the lapel's top. Catch the facing's inner edge to the interlining.",
        ("stay the fold of the front", "sew back and side seams"),
        pieces=("front",),
        caution=_NEEDLES,
        needs=("front",),
        only=FrontEdge.EXTENDED,
    ),
    _Task(
        "sew the shoulders",
        "Ease the back shoulder on to the front, baste, sew, and press over a cushion so that the ease shrinks"
        " away and the neck keeps its curve. Join the facings at the shoulder likewise.",
        ("face the fronts", "turn the front on its fold"),
        pieces=("back", "front", *_FACINGS),
        caution=_IRON,
        needs=_BODY,
    ),
    _Task(
        "make the under collar",
        "Cut it in two halves on the bias, join at the centre back, lay on its interlining. Pad-stitch the stand"
        " in close rows and the fall in wider ones, over the hand; shape it with the iron about the roll line.",
        ("correct the body",),
        pieces=("under-collar",),
        caution=_IRON,
        needs=("under-collar",),
    ),
    _Task(
        "second fitting",
        "Baste on the under collar and the sleeves. Look at the collar's outer edge on the back, at the gorge, at"
        " the sleeve's pitch: the bars on the upper sleeve should hang level with the front's.",
        ("sew the shoulders", "make the under collar", "baste the sleeves"),
        pieces=(*_BODY, "under-collar", *_SLEEVES),
        caution=_NEEDLES,
        needs=_BODY,
    ),
    _Task(
        "set the collar",
        "Fell the under collar to the neck from centre back to notch. Cut the top collar on its block, centred on"
        " the back's own bars and meeting the back where its outer edge lies; join it to the facings at the gorge,"
        " draw it over the under collar with its turn of cloth, fell the edges.",
        ("second fitting",),
        pieces=(*_COLLARS, "back", "back-neck-facing"),
        caution=_NEEDLES,
        needs=_COLLARS,
    ),
    _Task(
        "baste the sleeves",
        "Thread-trace the sleeves. Sew the forearm seam, stretching its hollow with the iron, press open; baste"
        " the hindarm and the turned-up hem. Draw the cap's ease in with two threads.",
        ("cut the sleeves and flaps",),
        pieces=_SLEEVES,
        caution=_IRON,
        needs=_SLEEVES,
    ),
    _Task(
        "set the sleeves",
        "Shrink the cap's ease over a cushion until it is round without a pucker. Baste from the front pitch,"
        " ease where the seam's card puts it, sew, and set a sleeve-head strip under the cap. Place the pads.",
        ("set the collar", "second fitting"),
        pieces=(*_SLEEVES, *_BODY),
        caution=_IRON,
        needs=_SLEEVES,
    ),
    _Task(
        "turn up the hems",
        "Check that the hem lies on one level bar all round, or miss evenly to both sides. Lay a bias strip in"
        " the fold, turn up, and catch stitch to the interlining and the seams, never through to the right side.",
        ("set the collar",),
        pieces=(*_BODY, "front-facing", *_SLEEVES),
        caution=_NEEDLES,
        needs=_BODY,
    ),
    _Task(
        "line the jacket",
        "Cut the lining from the corrected pieces, with a pleat at the centre back and ease in length. Fell it to"
        " facings, hem and armholes; raise the sleeve lining over the underarm's allowance.",
        ("turn up the hems", "set the sleeves"),
        pieces=(*_BODY, *_FACINGS, *_SLEEVES),
        caution=_NEEDLES,
        needs=_BODY,
    ),
    _Task(
        "work the buttonholes",
        "Cut and work them on the front that laps over, by the trial that came out best. Close the front bar on"
        " bar, mark the buttons through the holes, and sew them on with a stem as high as the cloth is thick.",
        ("line the jacket",),
        pieces=("front",),
        caution=_SHEARS,
        needs=_BODY,
    ),
    _Task(
        "cut the skirt",
        "Cut the skirt with its wide allowances, the front on its centre, the backs one by one, the bars"
        " continuing from the jacket where it hangs over them.",
        ("lay and chalk the pieces",),
        pieces=_SKIRT,
        caution=_SHEARS,
        needs=_SKIRT,
    ),
    _Task(
        "thread-trace and baste the skirt",
        "Trace every line. Slip-baste the centre back and the sides from the hem up, bar by bar; above the hip"
        " the bars part and should part evenly. Baste darts and a waist stay.",
        ("cut the skirt",),
        pieces=_SKIRT,
        caution=_NEEDLES,
        needs=_SKIRT,
    ),
    _Task(
        "fit the skirt",
        "Fit with the jacket basted on if it is a suit: the level bars of both tell whether the waist sits true"
        " at the back. Mark the finished waist and the hem from the floor.",
        ("thread-trace and baste the skirt",),
        pieces=_SKIRT,
        caution=_NEEDLES,
        needs=_SKIRT,
    ),
    _Task(
        "sew the skirt",
        "Sew darts, sides and the centre back between zip and vent; press open, the hip over a cushion. Stay the"
        " zip's edges, set it by hand with prick stitches, bars level across it. Fold the vent's extension and"
        " stay its top.",
        ("fit the skirt",),
        pieces=_SKIRT,
        caution=_IRON,
        needs=_SKIRT,
    ),
    _Task(
        "finish the waist",
        "Cut the waistband to the waist as fitted, interline it, hold the skirt in to it evenly and clear of the"
        " zip, sew, turn, fell inside. Sew the fastenings.",
        ("sew the skirt",),
        pieces=("waistband", *_SKIRT),
        caution=_NEEDLES,
        needs=_SKIRT,
    ),
    _Task(
        "line and hem the skirt",
        "Hang in the lining, free at the hem. Turn up the hem on its level bar, ease away what the shape gives"
        " over, catch stitch.",
        ("finish the waist",),
        pieces=_SKIRT,
        caution=_IRON,
        needs=_SKIRT,
    ),
    _Task(
        "cut the other pieces",
        "Cut these when their neighbours are fitted, thread-trace them, and put them in where they belong.",
        ("correct the body", "fit the skirt"),
        pieces=(_OTHER,),
        caution=_SHEARS,
        needs=(_OTHER,),
    ),
    _Task(
        "last press",
        "Draw the bastings, brush out chalk, press on the right side only through a cloth, section by section,"
        " sleeves and lapels last; let each cool where it lies. Hang overnight on a shaped hanger.",
        ("work the buttonholes", "line and hem the skirt", "cut the other pieces"),
        pieces=(*_BODY, *_SLEEVES, *_COLLARS, *_FLAPS, *_SKIRT, "waistband"),
        caution=f"{_IRON} {_CLEANING}",
    ),
    _Task(
        "keep the record",
        "Enter the fittings, mark cut pieces as cut, keep the remnants with a swatch of the repeat: the next"
        " commission begins there.",
        ("last press",),
    ),
)


def order_of_work(pieces: Sequence[CutPiece], front_edge: FrontEdge) -> tuple[Step, ...]:
    """Returns the steps for these pieces, each after those it waits for, naming the instances it handles."""
    cut = _instances_by_name(pieces)
    kept = [
        task
        for task in _TASKS
        if task.only in (None, front_edge) and (not task.needs or any(name in cut for name in task.needs))
    ]
    names = {task.name for task in kept}
    steps = tuple(
        Step(
            task.name,
            task.text,
            _standing(task.after, names),
            tuple(instance for name in task.pieces for instance in cut.get(name, ())),
            task.caution,
        )
        for task in kept
    )
    return _told_once(in_order(steps))


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


def _told_once(steps: Sequence[Step]) -> tuple[Step, ...]:
    """Returns ordered steps without what they wait for anyway, because another that they wait for does."""
    before: dict[str, set[str]] = {}
    for step in steps:
        before[step.name] = set(step.after).union(*(before[name] for name in step.after))
    return tuple(
        replace(step, after=tuple(name for name in step.after if not any(name in before[o] for o in step.after)))
        for step in steps
    )


def _instances_by_name(pieces: Sequence[CutPiece]) -> dict[str, tuple[str, ...]]:
    """Returns the instances of each piece; those of pieces that no step names stand under one name together."""
    told = {name for task in _TASKS for name in task.pieces}
    found: dict[str, tuple[str, ...]] = {}
    for piece in pieces:
        name = piece.piece.name if piece.piece.name in told else _OTHER
        found[name] = (*found.get(name, ()), piece.name)
    return found


def _standing(after: tuple[str, ...], kept: set[str]) -> tuple[str, ...]:
    """Returns the steps waited for; one that fell away is replaced by those that it waited for itself."""
    by_name = {task.name: task for task in _TASKS}
    found: list[str] = []
    for name in after:
        for standing in (name,) if name in kept else _standing(by_name[name].after, kept):
            if standing not in found:
                found.append(standing)
    return tuple(found)
