"""The steps of a jacket of any cut. Practice of the trade, from memory; the order is checked against the seams."""

from __future__ import annotations

from settwright.commission.design import FrontEdge
from settwright.makeup.edges.shaped import STATION
from settwright.makeup.facing import PREFIX as FACED
from settwright.makeup.handwork.roles import Joint, Part
from settwright.makeup.handwork.task import IRON, MACHINE, NEEDLES, SHEARS, Present, Task, cutting, having, sewing
from settwright.pattern import LineKind

_BODY = Part.BODY
_FRONT = ("front", "front-lower", "side-front", "side-front-lower", "side", "side-lower")
_BACK = ("back", "back-lower", "side-back", "side-back-lower")


def _rolls(present: Present) -> bool:
    return LineKind.ROLL in present.line_kinds


def _is_fold(present: Present) -> bool:
    return present.front_edge is not FrontEdge.SEPARATE


def _is_faced(present: Present) -> bool:
    return not present.front_edge.is_in_one and Joint.EDGE in present.joints


def _buttons(present: Present) -> bool:
    return present.named("button-1")


def _bound(present: Present) -> bool:
    return present.has(Part.PATCH)


JACKET: tuple[Task, ...] = (
    Task(
        "cut the body",
        "Cut the body with its allowances as wide as before the fitting, each piece by itself. Pin its name, hand"
        " and grain on it at once.",
        ("lay and chalk the pieces",),
        (_BODY,),
        caution=SHEARS,
    ),
    Task(
        "thread-trace the body",
        "With soft cotton, run every seam line, fold, centre, level and notch through to the right side, corners"
        " crossed. From now on the thread is the pattern; cut edges mean nothing.",
        ("cut the body",),
        (_BODY,),
        caution=NEEDLES,
    ),
    Task(
        "stay the neck and armholes",
        "Run a short stitch inside the seam line round neck, armhole and gorge, held to the length on the draft,"
        " so that nothing grows while the body is handled.",
        ("thread-trace the body",),
        (_BODY,),
        caution=NEEDLES,
    ),
    Task(
        "baste the body",
        "Slip-baste from the right side, one bar at a time: first the centre back, then the seams of back and front,"
        " side seams and shoulders last. Where the card of a seam says bars must miss, let them miss there and not"
        " elsewhere. Baste the darts. Baste the interlining to the fronts, smoothing from the middle out, and lay the"
        " pads in.",
        ("stay the neck and armholes",),
        (_BODY,),
        caution=NEEDLES,
    ),
    Task(
        "first fitting",
        "Fit over what will be worn under it, in the order of the list. Pin, chalk, and write down what was moved and"
        " by how much.",
        ("baste the body",),
        (_BODY,),
        caution=NEEDLES,
        checks=(
            "Balance: level bars hang level, front, back and sides. If not, lift or drop at the shoulders.",
            "Centre back and centre fronts plumb. If not, shift at the shoulder, then at the side.",
            "Shoulders: slope and length, the pad's place. Pin the seam, move the neck point last.",
            "Bust: fullest part on its level, dart or panel seam over it. Move the dart's point.",
            "Back: width over the blades, no fold under the collar. Let out at the armhole, or hollow the nape.",
            "Waist and hip: pin in or let out at the side seams first, evenly on both halves where the body is even.",
            "Front: break point, roll of the lapel, the fronts' lap, buttons' level.",
            "Armhole: depth and front; lengths of the jacket against mirror and bars.",
        ),
    ),
    Task(
        "correct the body",
        "Take the body apart, carry the pins' places to both sides by thread, enter the fitting in the commission, and"
        " trim the allowances to what the plan gives after the fitting. Seams that may be let out later keep theirs.",
        ("first fitting",),
        (_BODY,),
        caution=SHEARS,
    ),
    Task(
        "cut the sleeves",
        "Lay the corrected sleeves on their blocks so that the bars meet the body at the front pitch; cut, and"
        " thread-trace every line and notch.",
        ("correct the body",),
        (Part.SLEEVE, Part.GUSSET),
        when=having(Part.SLEEVE, Part.GUSSET),
        caution=SHEARS,
    ),
    cutting(
        "cut the pockets",
        "Lay each flap, welt or patch on the front itself, bar on bar, and chalk it there; cut it and its lining;"
        " jettings along the thread, from one bar.",
        ("correct the body",),
        Part.POCKET,
    ),
    cutting(
        "cut the interlining",
        "Cut it to the corrected fronts and collar, its grain as theirs unless its piece says otherwise; cut darts"
        " out of it and close them edge to edge over a strip.",
        ("correct the body",),
        Part.INTERLINING,
    ),
    Task(
        "cut the stays",
        "Cut stays and tapes to the lengths in the plan, on the grain that each one says; press the stretch out of"
        " bias ones before they are measured.",
        ("correct the body",),
        (Part.STAY,),
        when=having(Part.STAY),
        caution=f"{SHEARS} {IRON}",
    ),
    Task(
        "sew the darts and front seams",
        "Sew the darts to nothing and press them over a cushion; sew the seams of the front on the thread-traced line,"
        " pinned bar by bar, and press them open. Join a waist seam of the front after the seams that run into it.",
        ("correct the body",),
        pieces=_FRONT,
        sews=(Joint.DART, Joint.FRONT_PANEL, Joint.WAIST_FRONT),
        caution=f"{IRON} {MACHINE}",
    ),
    Task(
        "make the pockets",
        "Line flaps or patches, the lining a thread smaller so that it stays under; turn a welt at its fold over its"
        " canvas. Baste a welt or a patch on its place until every bar runs through; a patch is felled on by hand. A"
        " strip on the straight grain stays a mouth: sew welt or jettings on along it and cut it, turn jettings through"
        " and stitch them in their seam. Slip a flap between its jettings, baste it until every bar runs through, and"
        " stitch it under the upper one. The facing goes on the inner bag, behind the mouth.",
        ("sew the darts and front seams", "cut the pockets"),
        (Part.POCKET,),
        _FRONT[:2],
        sews=(Joint.POCKET,),
        when=having(Part.POCKET),
        caution=f"{SHEARS} {MACHINE}",
    ),
    Task(
        "set the interlining",
        "Baste the shaped interlining to each front, the front laid over the hand as it lies over the chest."
        " Catch it along the roll line.",
        ("make the pockets", "sew the darts and front seams", "cut the interlining"),
        (Part.INTERLINING,),
        _FRONT[:2],
        sews=(Joint.INTERLINING,),
        caution=NEEDLES,
    ),
    cutting(
        "cut the patches",
        "Chalk each patch over its traced hole, bar on bar, and cut it; press the centre line in.",
        ("correct the body",),
        Part.PATCH,
    ),
    cutting(
        "cut the covers",
        "Cut a round for each button, every one on the same place of the sett; mark its middle with a thread.",
        ("correct the body",),
        Part.COVER,
    ),
    Task(
        "cover the buttons",
        "Run a strong thread twice round each cover, 3 mm inside its edge; lay the button or mould in, middle on"
        " middle, draw the thread up, and see that the bars stand straight before it is made fast and backed.",
        ("cut the covers",),
        (Part.COVER,),
        when=having(Part.COVER),
        caution=NEEDLES,
    ),
    Task(
        "bind the buttonholes",
        "Lay each patch on its traced hole, bar on bar; sew round it, cut it open to the corners, turn the patch"
        " through, fold the lips even and baste them shut. Baste the lips along the hole; they stay basted to the end.",
        ("set the interlining", "cut the patches"),
        (Part.PATCH,),
        ("front",),
        sews=(Joint.PATCH,),
        when=_bound,
        caution=f"{SHEARS} {IRON}",
    ),
    Task(
        "tape the roll line and pad the lapels",
        "Sew a tape along the roll line, a little shorter than the line where the bust needs it held in."
        " Pad-stitch the lapel over the fingers so that it rolls by itself, the stitches hardly touching the right"
        " side.",
        ("set the interlining", "cut the stays"),
        (Part.STAY,),
        ("front",),
        sews=(Joint.STAY,),
        rather_after=("bind the buttonholes",),
        when=_rolls,
        caution=NEEDLES,
    ),
    Task(
        "tape the front edges",
        "Trim the interlining back to the seam line. Fell a narrow tape round every faced edge of the front, easy on a"
        " lapel, close at the break and over the bust, flat below it. Press from the wrong side.",
        ("tape the roll line and pad the lapels", "bind the buttonholes", "set the interlining", "cut the stays"),
        (Part.STAY,),
        _FRONT[:2],
        sews=(Joint.STAY,),
        when=_is_faced,
        caution=IRON,
    ),
    Task(
        "stay the fold of the front",
        "Lay the stay over the traced fold, half of it on each side, from the fold's upper end to its lower one, and"
        " catch it lightly to the interlining only. Cut it as long as the fold, less what is to be held in. The fold"
        " itself is not pressed yet.",
        ("tape the roll line and pad the lapels", "bind the buttonholes", "set the interlining", "cut the stays"),
        (Part.STAY,),
        _FRONT[:2],
        sews=(Joint.STAY,),
        when=_is_fold,
        caution=NEEDLES,
    ),
    Task(
        "sew back and side seams",
        "Sew the centre back from the nape down, the seams of the back, its waist seam, then the side seams, which run"
        " through everything so that they can be let out; a pin through every bar; press open. Stay the back neck and"
        " the shoulders.",
        ("sew the darts and front seams",),
        pieces=(*_BACK, *_FRONT),
        sews=(Joint.BACK_DART, Joint.BACK_PANEL, Joint.CENTRE_BACK, Joint.WAIST_BACK, Joint.SIDE),
        rather_after=("tape the front edges", "stay the fold of the front", "make the pockets", "set the interlining"),
        caution=f"{IRON} {MACHINE}",
    ),
    Task(
        "make the vents",
        "Fold each vent on its traced line, tape the fold, face or mitre its lower corner; where the seam ends sew its"
        " slanted top down through all layers, a strip of linen behind it.",
        ("sew back and side seams",),
        pieces=(*_BACK, "side", "side-front"),
        when=lambda present: any(
            notch.name == "vent-top"
            for piece in present.pieces
            if piece.piece.name.removesuffix("-lower") in (*_BACK, "side", "side-front", "front")
            for notch in piece.piece.notches
        ),
        caution=IRON,
    ),
    cutting(
        "cut the facings",
        "Lay the facings on their blocks against the finished fronts: bars at a lapel's edge are chosen from"
        " how it really rolls. Keep the turn of cloth that the draft gives.",
        ("tape the front edges", "stay the fold of the front", "correct the body"),
        Part.FACING,
    ),
    Task(
        "shape the facings",
        "Lay each strip on its template, both together, and shrink or stretch it station by station by the figures in"
        " the plan: ease bastings first where it says so, steam, pat, let it dry before it is moved. Only then trim it"
        " to the template.",
        ("cut the facings",),
        (Part.FACING,),
        when=lambda present: present.begins(STATION),
        caution=IRON,
    ),
    Task(
        "shape the facings beyond the fold",
        "Where a facing cut in one with its front goes on straight beyond the end of the fold, lay it on its template"
        " and shrink or stretch it station by station by the figures in the plan, both fronts together: ease bastings"
        " first where it says so, steam, pat, let it dry before it is moved. Only then trim it to the template.",
        ("stay the fold of the front", "correct the body"),
        pieces=_FRONT[:1],
        when=lambda present: present.begins(FACED + STATION),
        caution=IRON,
    ),
    Task(
        "join the parts of the facing",
        "Sew the parts of a split facing at their join, bars running through; press open and trim to no more than"
        " lies flat under the edge. A join that lies behind a buttonhole stays open over the hole's length.",
        ("cut the facings", "shape the facings"),
        (Part.FACING,),
        sews=(Joint.FACING_JOIN,),
        when=sewing(Joint.FACING_JOIN),
        caution=f"{IRON} {MACHINE}",
    ),
    Task(
        "face the fronts",
        "Baste the facing to the edge, on a lapel from the break both ways, easy at the lapel's point above the break"
        " and a shade tight below it, for there the facing is the inner side. Sew, grade, turn, and baste the edge"
        " with the seam rolled to the side that won't be seen; prick-stitch it from that side.",
        ("shape the facings", "join the parts of the facing", "tape the front edges", "bind the buttonholes"),
        (Part.FACING,),
        _FRONT[:2],
        sews=(Joint.EDGE,),
        rather_after=("sew back and side seams",),
        when=_is_faced,
        caution=f"{NEEDLES} {MACHINE}",
    ),
    Task(
        "fold the facing at the top button",
        "Cut the facing's fold open along the middle that is traced in it, to a finger's breadth before its point. Lay"
        " its two legs on one another and baste them; sew from the inner edge to the hole's inner end and from its"
        " outer end to the point, and leave the hole's length open. On the other front, and behind a hole worked by"
        " hand, sew the whole leg. Trim to a seam, press open: the two turned edges are the back of the hole.",
        ("stay the fold of the front", "bind the buttonholes"),
        pieces=_FRONT[:1],
        sews=(Joint.FACING_FOLD,),
        when=sewing(Joint.FACING_FOLD),
        caution=f"{SHEARS} {IRON}",
    ),
    Task(
        "turn the front on its fold",
        "Fold the facing back along the trace, a lapel rolled as it will be worn, and baste through near the fold."
        " Sew and turn what of the edge is no fold: a lapel's top, a neck's edge, a rounded corner. Catch the facing's"
        " inner edge to the interlining.",
        (
            *("stay the fold of the front", "bind the buttonholes"),
            *("fold the facing at the top button", "shape the facings beyond the fold"),
        ),
        pieces=_FRONT[:2],
        sews=(Joint.EDGE,),
        rather_after=("sew back and side seams",),
        when=_is_fold,
        caution=NEEDLES,
    ),
    Task(
        "open the facing behind the buttonholes",
        "Push a pin through each end of every bound hole, cut the facing between them, turn the slit's edges in and"
        " fell them to the back of the hole. Where a join or a fold of the facing lies behind the hole and was left"
        " open, nothing is cut: fell its turned edges.",
        ("bind the buttonholes", "face the fronts", "turn the front on its fold"),
        (Part.FACING,),
        ("front",),
        when=_bound,
        caution=f"{SHEARS} {NEEDLES}",
    ),
    Task(
        "sew the shoulders",
        "Ease the back shoulder on to the front, baste, sew, and press over a cushion so that the ease shrinks"
        " away and the neck keeps its curve.",
        ("sew the darts and front seams",),
        pieces=(*_BACK, *_FRONT),
        sews=(Joint.SHOULDER,),
        rather_after=("sew back and side seams", "face the fronts", "turn the front on its fold"),
        when=sewing(Joint.SHOULDER),
        caution=f"{IRON} {MACHINE}",
    ),
    Task(
        "close the shawl at the back",
        "Sew the collar's halves together at the centre back, press open, then sew their neck edge to the back neck"
        " from shoulder to shoulder; snip only where it pulls. Pad-stitch over the seam.",
        ("sew the shoulders", "tape the roll line and pad the lapels"),
        pieces=("front", "back"),
        sews=(Joint.SHAWL_BACK, Joint.SHAWL_NECK),
        when=sewing(Joint.SHAWL_BACK, Joint.SHAWL_NECK),
        caution=f"{IRON} {MACHINE}",
    ),
    Task(
        "join the facings",
        "Join the front facings to the back neck's, at the shoulders and, of a shawl, at the centre back and the neck;"
        " press open.",
        ("cut the facings", "shape the facings"),
        (Part.FACING,),
        ("front",),
        sews=(Joint.FACING_SHOULDER, Joint.FACING_BACK, Joint.FACING_COLLAR),
        rather_after=("sew the shoulders",),
        when=sewing(Joint.FACING_SHOULDER, Joint.FACING_BACK, Joint.FACING_COLLAR),
        caution=f"{IRON} {MACHINE}",
    ),
    cutting(
        "cut the collar",
        "Cut the collar's inner layer and its interlining; the layer that is seen stays in its block until the second"
        " fitting has settled the neck.",
        ("correct the body",),
        Part.COLLAR,
    ),
    Task(
        "make the under collar",
        "Join its halves at the centre back where it has a seam, lay it on its interlining. Pad-stitch the stand in"
        " close rows and the fall in wider ones, over the hand; shape it with the iron about the roll line.",
        ("cut the collar",),
        (Part.COLLAR,),
        sews=(Joint.COLLAR_SEAM,),
        when=having(Part.COLLAR),
        caution=IRON,
    ),
    Task(
        "baste the sleeves",
        "Thread-trace the sleeves. Stretch the hollow of a forearm seam with the iron; baste every seam and the"
        " turned-up hem. Draw the cap's ease in with two threads.",
        ("cut the sleeves",),
        (Part.SLEEVE,),
        when=having(Part.SLEEVE),
        caution=IRON,
    ),
    Task(
        "second fitting",
        "Baste on the collar's inner layer and the sleeves, facings laid in. Fit, and write down what was moved.",
        ("make the under collar", "baste the sleeves", "sew back and side seams", "sew the shoulders"),
        (_BODY, Part.SLEEVE, Part.COLLAR),
        rather_after=("face the fronts", "turn the front on its fold", "join the facings"),
        caution=NEEDLES,
        checks=(
            "Body: what the first fitting moved now lies right, the bars still level.",
            "Collar or neckline: close at the nape, outer edge on its traced line, gorge and notch alike on both"
            " sides. Correct at the neck seam.",
            "Lapel: rolls from the break point by itself. Hold in or ease the roll line's tape.",
            "Sleeves: pitch (bars on the sleeve hang level with the front's), no drag at the cap, arm lifts. Turn the"
            " sleeve in the armhole, then correct the ease.",
            "Lengths: jacket, sleeves; the fronts hang edge on edge. Mark every hem on its bar.",
            "Buttons: place and number, the top one on the break point.",
        ),
    ),
    Task(
        "set the collar",
        "Fell the under collar to the neck from centre back to notch, or sew a stand to the neck. Cut the top collar"
        " on its block, centred on the back's own bars and meeting the back where its outer edge lies; join it to the"
        " facings at the gorge, draw it over the under collar with its turn of cloth, fell the edges.",
        ("second fitting", "make the under collar"),
        (Part.COLLAR, Part.FACING),
        _BACK[:1],
        sews=(Joint.NECK, Joint.FACING_NECK, Joint.COLLAR_EDGE),
        rather_after=(
            "face the fronts",
            "turn the front on its fold",
            "join the facings",
            "close the shawl at the back",
        ),
        when=sewing(Joint.NECK, Joint.COLLAR_EDGE, Joint.FACING_NECK),
        caution=NEEDLES,
    ),
    Task(
        "make the sleeves",
        "Sew the sleeves' seams, press open over a board; turn up the hem on its bar over a bias strip and catch"
        " stitch it; make the vent and mark its buttons.",
        ("baste the sleeves", "second fitting"),
        (Part.SLEEVE,),
        sews=(Joint.SLEEVE_SEAM,),
        when=having(Part.SLEEVE),
        caution=f"{IRON} {MACHINE}",
    ),
    Task(
        "set the sleeves",
        "Shrink the cap's ease over a cushion until it is round without a pucker. Baste from the front pitch, or a"
        " raglan from its pitch to the neck; ease where the seam's card puts it, sew by hand with a back stitch, and"
        " set a sleeve-head strip under a cap. Place the pads.",
        ("make the sleeves", "sew the shoulders", "sew back and side seams"),
        (Part.SLEEVE, _BODY),
        sews=(Joint.RAGLAN, Joint.ARMHOLE),
        rather_after=("set the collar",),
        when=sewing(Joint.ARMHOLE, Joint.RAGLAN),
        caution=IRON,
    ),
    Task(
        "set the gussets",
        "Stay the slit's end with a scrap of thin silk, open the slit, sew the gusset in side by side from its points,"
        " bars as the card says, and press away from it.",
        ("sew the shoulders", "sew back and side seams", "cut the sleeves", "second fitting"),
        (Part.GUSSET,),
        ("front", "back"),
        sews=(Joint.GUSSET,),
        when=sewing(Joint.GUSSET),
        caution=f"{SHEARS} {MACHINE}",
    ),
    Task(
        "sew the other seams",
        "Sew these in when their neighbours are done: each before a seam, an edge or a lining runs over it.",
        ("second fitting", "cut the other pieces"),
        (Part.OTHER,),
        sews=(Joint.OTHER,),
        when=sewing(Joint.OTHER),
        caution=f"{NEEDLES} {MACHINE}",
    ),
    Task(
        "turn up the hems",
        "Check that the hem lies on one level bar all round, or misses evenly to both sides. Lay a bias strip in"
        " the fold, turn up, and catch stitch to the interlining and the seams, never through to the right side."
        " Fell the facing over it, catch its inner edge to the interlining.",
        ("second fitting", "sew back and side seams"),
        (_BODY, Part.FACING),
        rather_after=(
            "set the collar",
            "make the vents",
            "face the fronts",
            "turn the front on its fold",
            "set the gussets",
            "sew the other seams",
        ),
        caution=NEEDLES,
    ),
    cutting(
        "cut the lining",
        "Cut the lining by its pieces, corrected as the fittings were, with the pleat at the centre back and the ease"
        " that its pieces give.",
        ("second fitting",),
        Part.LINING,
    ),
    Task(
        "make the lining",
        "Sew the lining's own seams, its sleeves apart; press flat to one side.",
        ("cut the lining",),
        (Part.LINING,),
        sews=(Joint.LINING_SEAM,),
        when=having(Part.LINING),
        caution=f"{IRON} {MACHINE}",
    ),
    Task(
        "line the jacket",
        "Baste the lining in with the jacket on a stand or over the hand, pleat at the centre back, ease in length."
        " Fell it to facings, hem and armholes; raise the sleeve lining over the underarm's allowance. Undrafted, it"
        " is cut from the corrected pieces.",
        (
            *("make the lining", "turn up the hems", "set the sleeves", "set the gussets", "set the collar"),
            *("make the pockets", "make the vents", "face the fronts", "turn the front on its fold"),
            *("join the facings", "open the facing behind the buttonholes", "close the shawl at the back"),
            *("sew the other seams", "tape the front edges"),
        ),
        (_BODY, Part.FACING, Part.SLEEVE, Part.LINING),
        sews=(Joint.LINING_IN,),
        caution=NEEDLES,
    ),
    Task(
        "work the buttonholes",
        "Cut each hole on its traced line after a row of small stitches round it, overcast it, and work it by hand"
        " over a gimp by the trial that came out best.",
        ("line the jacket",),
        pieces=("front",),
        when=lambda present: _buttons(present) and not _bound(present),
        caution=f"{SHEARS} {NEEDLES}",
    ),
    Task(
        "sew on the buttons",
        "Close the front bar on bar, mark the buttons through the holes, and sew them on with a stem as high as the"
        " cloth is thick; a small button inside takes the strain. Of fronts that lie far over one another a button on"
        " the inside of the upper one holds the under one's edge.",
        ("work the buttonholes", "open the facing behind the buttonholes", "line the jacket", "cover the buttons"),
        pieces=("front",),
        when=_buttons,
        caution=NEEDLES,
    ),
    Task(
        "sew on the hooks",
        "Lay the fronts edge to edge, bar on bar; sew hooks and worked bars by turns so that they can't slip open,"
        " the hooks a thread inside the edge, and cover them with the facing.",
        ("line the jacket",),
        pieces=("front",),
        when=lambda present: present.named("hook-1"),
        caution=NEEDLES,
    ),
)
