"""The steps of skirts and trousers of any cut, and of a garment that no custom is known for."""

from __future__ import annotations

from settwright.makeup.handwork.roles import Joint, Part
from settwright.makeup.handwork.task import IRON, MACHINE, NEEDLES, SHEARS, Present, Task, cutting, having, sewing

_SKIRT = (Part.BODY,)


def _is_pleated(present: Present) -> bool:
    return present.named("pleat-1-fold")


def _has_vent(present: Present) -> bool:
    return present.named("vent-top")


SKIRT: tuple[Task, ...] = (
    Task(
        "cut the skirt",
        "Cut the skirt with its wide allowances, the front on its centre, the backs one by one, under a jacket"
        " the bars continuing from it where it hangs over them.",
        ("lay and chalk the pieces",),
        (Part.BODY, Part.TOP),
        caution=SHEARS,
    ),
    Task(
        "thread-trace and baste the skirt",
        "Trace every line. Slip-baste the centre back and the sides from the hem up, bar by bar; above the hip"
        " the bars part and should part evenly. Baste darts or pleats and a waist stay.",
        ("cut the skirt",),
        (Part.BODY, Part.TOP),
        caution=NEEDLES,
    ),
    Task(
        "fit the skirt",
        "Fit with the jacket basted on if it is a suit. Mark the finished waist and the hem from the floor.",
        ("thread-trace and baste the skirt",),
        (Part.BODY, Part.TOP),
        caution=NEEDLES,
        checks=(
            "Level bars hang level all round: they tell whether the waist sits true at the back. Lift or drop at the"
            " waist, never at the hem.",
            "Side seams plumb. Shift waist and dart, front or back.",
            "Hip: no drag, sits and steps. Let out or take in at the sides.",
            "Darts end short of the fullest part; pleats hang closed.",
            "Hem: even from the floor, on one bar if the figure allows it.",
        ),
    ),
    Task(
        "correct the skirt",
        "Take it apart where it was moved, carry the pins' places to both sides by thread, enter the fitting in the"
        " commission, trim to the allowances after the fitting.",
        ("fit the skirt",),
        (Part.BODY, Part.TOP),
        caution=SHEARS,
    ),
    Task(
        "cut the skirt's pockets and stays",
        "Cut pockets, interlining and stays to the corrected skirt.",
        ("correct the skirt",),
        (Part.POCKET, Part.STAY, Part.INTERLINING, Part.FLY),
        when=having(Part.POCKET, Part.STAY, Part.INTERLINING, Part.FLY),
        caution=SHEARS,
    ),
    Task(
        "sew the skirt",
        "Sew darts, then sides and the centre back between zip and vent, a pin through every bar; press open, the hip"
        " over a cushion; overcast the allowances.",
        ("correct the skirt", "cut the skirt's pockets and stays"),
        _SKIRT,
        sews=(
            *(Joint.DART, Joint.BACK_DART, Joint.POCKET, Joint.INTERLINING, Joint.STAY, Joint.FRONT_PANEL),
            *(Joint.BACK_PANEL, Joint.CENTRE_BACK, Joint.SIDE, Joint.FLY),
        ),
        caution=f"{IRON} {MACHINE}",
    ),
    Task(
        "make the bodice top",
        "Sew its side seams and shoulders, baste in what lets out later, face or bind neck and armholes.",
        ("correct the skirt", "sew the skirt"),
        (Part.TOP, Part.FACING),
        sews=(Joint.SHOULDER, Joint.EDGE, Joint.FACING_SHOULDER, Joint.FACING_JOIN, Joint.FACING_BACK),
        when=having(Part.TOP),
        caution=f"{IRON} {MACHINE}",
    ),
    Task(
        "sew the skirt's other seams",
        "Sew these in when their neighbours are done: each before a seam, an edge or a lining runs over it.",
        ("sew the skirt", "cut the other pieces"),
        (Part.OTHER,),
        sews=(Joint.OTHER,),
        when=sewing(Joint.OTHER),
        caution=f"{NEEDLES} {MACHINE}",
    ),
    Task(
        "hem the skirt flat",
        "A pleated skirt is hemmed before its pleats are laid: turn up on the marked bar, catch stitch, press the"
        " edge, and open seams flat through it.",
        ("sew the skirt", "sew the skirt's other seams"),
        _SKIRT,
        when=_is_pleated,
        caution=IRON,
    ),
    Task(
        "lay the pleats",
        "Lay every fold on its cover line, bar on bar, from the hem up; baste through all layers, press from the wrong"
        " side under a damp cloth, let it dry flat, then stitch down as far as the cover line is slanted.",
        ("hem the skirt flat",),
        _SKIRT,
        when=_is_pleated,
        caution=IRON,
    ),
    Task(
        "make the vent",
        "Fold the vent's extension on its traced line, stay its top, mitre the corner at the hem and secure the top"
        " through all layers.",
        ("sew the skirt",),
        pieces=("skirt-back",),
        when=_has_vent,
        caution=IRON,
    ),
    Task(
        "join the top to the skirt",
        "Sew bodice top and skirt together at the waist, darts on darts, and stay the seam with a ribbon a little"
        " shorter than the waist.",
        ("make the bodice top", "sew the skirt"),
        (Part.TOP, Part.BODY),
        sews=(Joint.WAIST,),
        when=having(Part.TOP),
        caution=f"{IRON} {MACHINE}",
    ),
    Task(
        "set the zip",
        "Stay the opening's edges. Baste the zip closed behind the edge, bars level across it, the slider below the"
        " waist seam; sew by hand with prick stitches, then fell its tape to the allowance.",
        ("sew the skirt", "join the top to the skirt"),
        pieces=("skirt-back", "top-back"),
        rather_after=("lay the pleats", "make the vent"),
        when=lambda present: present.named("zip-end"),
        caution=f"{NEEDLES} {IRON}",
    ),
    cutting(
        "cut the skirt's band",
        "Cut band or ribbon to the waist as fitted, with the lap for the fastening.",
        ("correct the skirt",),
        Part.BAND,
    ),
    cutting(
        "cut the skirt's lining",
        "Cut the lining by its pieces, corrected as the skirt was.",
        ("correct the skirt",),
        Part.LINING,
    ),
    Task(
        "make the skirt's lining",
        "Sew the lining's seams; press; leave the opening for zip and vent.",
        ("cut the skirt's lining",),
        (Part.LINING,),
        sews=(Joint.LINING_SEAM,),
        when=having(Part.LINING),
        caution=f"{IRON} {MACHINE}",
    ),
    Task(
        "finish the waist",
        "Interline the band, or shape the ribbon; baste the lining's waist in; hold the skirt in to it evenly and clear"
        " of the zip, sew, turn, fell inside. Sew hook and bar, or snap.",
        (
            *("sew the skirt", "set the zip", "lay the pleats", "cut the skirt's band"),
            *("make the skirt's lining", "sew the skirt's other seams"),
        ),
        (Part.BAND, Part.BODY),
        sews=(Joint.BAND_SEAM, Joint.WAIST),
        when=lambda present: present.has(Part.BAND) or not present.has(Part.TOP),
        caution=NEEDLES,
    ),
    Task(
        "line and hem the skirt",
        "Fell the lining to the zip's tape and round the vent, free at the hem. Turn up the hem on its level bar, ease"
        " away what the shape gives over, catch stitch.",
        (
            *("finish the waist", "make the vent", "set the zip", "join the top to the skirt"),
            *("sew the skirt's other seams", "make the skirt's lining"),
        ),
        (Part.BODY, Part.LINING),
        sews=(Joint.LINING_IN,),
        caution=IRON,
    ),
)


def _band_in_halves(present: Present) -> bool:
    return Joint.BAND_SEAM in present.joints


def _one_after_the_other(present: Present) -> bool:
    return not _band_in_halves(present)


TROUSERS: tuple[Task, ...] = (
    Task(
        "cut the trousers",
        "Cut fronts and backs with their wide allowances, each by itself, the creases on the same bar of both legs.",
        ("lay and chalk the pieces",),
        (Part.BODY,),
        caution=SHEARS,
    ),
    Task(
        "thread-trace and baste the trousers",
        "Trace every line, the creases too. Baste darts or pleats, sides and inseams from the knee both ways, the"
        " seat last; baste a stay to the waist.",
        ("cut the trousers",),
        (Part.BODY,),
        caution=NEEDLES,
    ),
    Task(
        "fit the trousers",
        "Fit with the shoes that will be worn. Pin, chalk, and write down what was moved and by how much.",
        ("thread-trace and baste the trousers",),
        (Part.BODY,),
        caution=NEEDLES,
        checks=(
            "Creases plumb over the middle of the knee, front and back. Shift at the side and inseam.",
            "Waist and seat: sits and bends without a drag. Let out the seat seam, or lift at the back waist.",
            "Fork: no pull at the front, no fold below the seat. Move the fork along the inseam.",
            "Pleats hang closed, the pockets' mouths lie flat.",
            "Hem: breaks on the shoe as wished, slanted down to the back.",
        ),
    ),
    Task(
        "correct the trousers",
        "Take them apart where they were moved, carry the pins' places to both sides by thread, enter the fitting in"
        " the commission, trim to the allowances after the fitting. The seat seam keeps its own.",
        ("fit the trousers",),
        (Part.BODY,),
        caution=SHEARS,
    ),
    Task(
        "cut the trousers' small pieces",
        "Cut the parts of fly, pockets and stays to the corrected fronts.",
        ("correct the trousers",),
        (Part.FLY, Part.POCKET, Part.STAY, Part.INTERLINING, Part.FACING),
        when=having(Part.FLY, Part.POCKET, Part.STAY, Part.INTERLINING, Part.FACING),
        caution=SHEARS,
    ),
    Task(
        "press the legs to shape",
        "Stretch the back's inseam above the knee and shrink the hollow behind the knee, both legs alike; lay in the"
        " front crease.",
        ("correct the trousers",),
        (Part.BODY,),
        caution=IRON,
    ),
    Task(
        "sew the trousers' darts",
        "Sew darts or baste pleats shut, press darts towards the middle.",
        ("press the legs to shape",),
        (Part.BODY,),
        sews=(Joint.DART, Joint.BACK_DART, Joint.STAY, Joint.INTERLINING),
        caution=f"{IRON} {MACHINE}",
    ),
    Task(
        "make the trousers' pockets",
        "Face the pockets' mouths over a straight stay, prick-stitch the edge, lay the mouth on the underlay, bar on"
        " bar, and close the bag below it.",
        ("cut the trousers' small pieces", "sew the trousers' darts"),
        (Part.POCKET,),
        ("trousers-front",),
        sews=(Joint.POCKET,),
        when=having(Part.POCKET),
        caution=f"{NEEDLES} {MACHINE}",
    ),
    Task(
        "make the fly",
        "Stay both edges with linen tape. Face the front that laps, turn it and roll the seam inside. Carry the other"
        " front on with its placket, folded double and felled over the seam. Begin the crotch below the fly's end and"
        " bar it; lay the fly shut, bar on bar, and slip-baste it: the opening is finished before there is a zip.",
        ("cut the trousers' small pieces", "sew the trousers' darts"),
        (Part.FLY,),
        ("trousers-front",),
        sews=(Joint.FLY, Joint.EDGE),
        when=having(Part.FLY),
        caution=f"{NEEDLES} {IRON}",
    ),
    Task(
        "sew the sides and inseams",
        "Sew the side seams, a pin through every bar, taking in the pockets' underlays; press open. Sew the inseams,"
        " the back stretched to the front above the knee; press open. Press the creases.",
        ("sew the trousers' darts", "make the trousers' pockets"),
        (Part.BODY, Part.POCKET),
        sews=(Joint.SIDE, Joint.INSEAM, Joint.FRONT_PANEL, Joint.BACK_PANEL),
        rather_after=("make the fly",),
        caution=f"{IRON} {MACHINE}",
    ),
    Task(
        "sew the trousers' other seams",
        "Sew these in when their neighbours are done: each before a seam, an edge or a lining runs over it.",
        ("sew the sides and inseams", "cut the other pieces"),
        (Part.OTHER,),
        sews=(Joint.OTHER,),
        when=sewing(Joint.OTHER),
        caution=f"{NEEDLES} {MACHINE}",
    ),
    Task(
        "sew the seat",
        "Sew from the fly's end through the fork to the waist, twice in the hollow or by hand with a back stitch,"
        " stretching it a little; press open only above the curve.",
        ("sew the sides and inseams", "make the fly"),
        (Part.BODY,),
        sews=(Joint.SEAT, Joint.CENTRE_BACK),
        when=_one_after_the_other,
        caution=f"{IRON} {MACHINE}",
    ),
    cutting(
        "cut the trousers' band",
        "Cut band or ribbon to the waist as fitted, its halves with the seat's allowance at the centre back.",
        ("correct the trousers",),
        Part.BAND,
    ),
    cutting(
        "cut the trousers' lining",
        "Cut the lining by its pieces, corrected as the trousers were.",
        ("correct the trousers",),
        Part.LINING,
    ),
    Task(
        "line the trousers",
        "Sew the lining's seams and baste it to the fronts before the band goes on; fell it at the fly.",
        ("cut the trousers' lining", "sew the sides and inseams"),
        (Part.LINING,),
        sews=(Joint.LINING_SEAM, Joint.LINING_IN),
        rather_after=("sew the seat",),
        when=having(Part.LINING),
        caution=f"{IRON} {MACHINE}",
    ),
    Task(
        "set the band",
        "Interline the band, sew it to the waist over the facing of the fly, close its front ends; or turn the waist in"
        " and face it with its ribbon. Sew the hook and bar before the inside is felled over them.",
        (
            *("sew the seat", "sew the sides and inseams", "cut the trousers' band", "make the fly"),
            *("line the trousers", "sew the trousers' other seams"),
        ),
        (Part.BAND, Part.BODY),
        sews=(Joint.WAIST,),
        caution=f"{NEEDLES} {MACHINE}",
    ),
    Task(
        "sew the seat with the band",
        "With a band in halves each leg is finished to its band first: then sew from the fly's end through the fork and"
        " on through the band, so that both let out together. Back-stitch the hollow by hand; press open above it and"
        " fell the band over its seam.",
        ("set the band", "make the fly"),
        (Part.BODY, Part.BAND),
        sews=(Joint.SEAT, Joint.CENTRE_BACK, Joint.BAND_SEAM),
        when=_band_in_halves,
        caution=f"{IRON} {MACHINE}",
    ),
    Task(
        "set the zip in the fly",
        "By hand, the fly still basted shut. First tape: teeth a little beyond the placket's fold, pricked through from"
        " the front. Second tape: fastened to the facing alone with two rows of back stitch.",
        ("make the fly", "set the band", "sew the seat", "sew the seat with the band"),
        (Part.FLY,),
        ("trousers-front",),
        when=having(Part.FLY),
        caution=NEEDLES,
    ),
    Task(
        "stitch the fly and hang the shield",
        "Open the basting; prick the fly through front and facing on its line and round into the fly's end. Fold the"
        " shield double, fell it over the first tape to the placket's seam, its foot to the crotch's turnings.",
        ("set the zip in the fly",),
        (Part.FLY,),
        ("trousers-front",),
        sews=(Joint.FLY_SHIELD,),
        when=having(Part.FLY),
        caution=NEEDLES,
    ),
    Task(
        "hem the trousers",
        "Turn up on the marked line, slanted as drafted, catch stitch, tape the back of the hem against wear. Press the"
        " creases from the wrong side.",
        ("set the band", "sew the seat", "sew the seat with the band", "line the trousers", "set the zip in the fly"),
        (Part.BODY,),
        caution=IRON,
    ),
)


def plain_tasks(garment: str) -> tuple[Task, ...]:
    """Returns the steps of a garment that no custom is known for: all that holds of any."""
    baste, fit = f"thread-trace and baste the {garment}", f"fit the {garment}"
    return (
        Task(
            f"cut the {garment}",
            "Cut every piece by itself with its wide allowances; pin its name, hand and grain on it.",
            ("lay and chalk the pieces",),
            tuple(part for part in Part if part is not Part.OTHER),
            caution=SHEARS,
        ),
        Task(baste, "Trace every line; slip-baste the seams, bar by bar.", (f"cut the {garment}",), tuple(Part),
             caution=NEEDLES),
        Task(fit, "Fit, pin, and write down what was moved.", (baste,), tuple(Part), caution=NEEDLES,
             checks=("Level bars hang level, centres are plumb, nothing drags.",)),
        Task(
            f"sew the {garment}",
            "Sew what lies within a part first, then what joins the parts, then edges, neck, waist and hem.",
            (fit, "cut the other pieces"),
            tuple(Part),
            sews=tuple(joint for joint in Joint if joint is not Joint.LINING_IN),
            caution=f"{IRON} {MACHINE}",
        ),
        Task(
            f"finish the {garment}",
            "Turn up hems, fell in the lining, sew the fastenings.",
            (f"sew the {garment}",),
            tuple(Part),
            sews=(Joint.LINING_IN,),
            caution=f"{IRON} {NEEDLES}",
        ),
    )  # fmt: skip
