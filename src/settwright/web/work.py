"""What is done at the two benches: at one the garment is drafted and its bars matched, at the other it is laid.

Each keeps what it made for the latest plans. What a stage made is kept by the hash of its inputs, so that a changed
choice works out only what depends on it. Answers leave as JSON, ready for the page.
"""

from __future__ import annotations

import gc
import io
import pickle
import zipfile
from collections import OrderedDict
from collections.abc import Callable, Hashable
from typing import Any, Generic, TypeVar

import msgspec

from settwright.bars.match import match
from settwright.bars.model import Axis, Pin
from settwright.commission.hashing import canonical_hash
from settwright.commission.model import Commission
from settwright.commission.reading import read_commission
from settwright.commission.writing import Change
from settwright.findings import Refusal, refuse
from settwright.geometry import Point
from settwright.layout.engine import EFFORT
from settwright.layout.model import Layout
from settwright.plan.plan import Plan
from settwright.planner.derive import Made, Matched, derive_bars, for_pieces, lay_cloths
from settwright.planner.files import File, book_files, sheet_files
from settwright.planner.marking import cut_marks
from settwright.web import report
from settwright.web.bench import Desk, Stopped
from settwright.web.changes import NAME, finding_data
from settwright.web.handwork import hours_data
from settwright.web.lessons import facings_data, lesson_data, measurements_data, order_data
from settwright.web.picture import picture_data, pieces_data
from settwright.workbook.book import layout_svg
from settwright.workbook.drawing.figure.form import View
from settwright.workbook.sheets import PAGES

Value = TypeVar("Value")


class Shelf(Generic[Value]):
    """The latest few of something, by key."""

    def __init__(self, most: int):
        self._most = most
        self._kept: OrderedDict[Hashable, Value] = OrderedDict()

    def get(self, key: Hashable) -> Value | None:
        """Returns what is kept, and keeps it the longer."""
        if key in self._kept:
            self._kept.move_to_end(key)
        return self._kept.get(key)

    def put(self, key: Hashable, value: Value) -> Value:
        """Keeps a value, and returns it."""
        self._kept[key] = value
        self._kept.move_to_end(key)
        while len(self._kept) > self._most:
            self._kept.popitem(last=False)
        return value

    def __contains__(self, key: Hashable) -> bool:
        return key in self._kept

    def have(self, key: Hashable, make: Callable[[], Value]) -> Value:
        """Returns what is kept, or makes it."""
        found = self.get(key)
        return self.put(key, make()) if found is None else found


def encoded(data: Any) -> bytes:
    """Returns data as JSON."""
    return msgspec.json.encode(data)


class Bars:
    """The first bench: everything up to the bars, and what is drawn of it."""

    def __init__(self) -> None:
        gc.freeze()
        self._stages: Shelf[Any] = Shelf(24)
        self._plans: Shelf[Matched] = Shelf(8)
        self._quick: Shelf[Matched] = Shelf(4)  # their bars sought near another plan's
        self._drawn: Shelf[bytes] = Shelf(48)

    def warm(self, desk: Desk, text: str) -> None:
        """Works a plan out for nobody, so that the compiled parts are loaded."""
        made = self._matched(desk, "warm", text)
        derive_bars(read_commission(text, NAME), keep=self._keep, near=made.plan.match)
        self.picture(desk, "warm", text, View.FRONT)
        gc.freeze()

    def report(self, desk: Desk, key: str, text: str) -> bytes:
        """Returns the report of a plan."""
        return encoded(report.report_data(key, self._matched(desk, key, text).plan))

    def quick(self, desk: Desk, key: str, text: str, near: str) -> bytes:
        """Returns the report as it is at once, the bars sought near those of another plan."""
        other = self._plans.get(near) or self._quick.get(near)
        if other is None or key in self._plans:
            return self.report(desk, key, text)
        made = derive_bars(read_commission(text, NAME), keep=self._keep, near=other.plan.match)
        self._quick.put(key, made)
        return encoded({**report.report_data(key, made.plan), "provisional": True})

    def picture(self, desk: Desk, key: str, text: str, view: str) -> bytes:
        """Returns the garment from one side."""
        plan = self._at_hand(desk, key, text)
        jacket = plan.commission.jacket
        diameter = jacket.button_diameter if jacket else 22.0
        lying = tuple((phase.piece, phase.orientation.t, phase.orientation.f) for phase in plan.match.phases)
        inputs = (canonical_hash(for_pieces(plan.commission)), lying, view, diameter)
        return self._drawn.have(inputs, lambda: encoded(picture_data(plan.made_up, plan.match, View(view), diameter)))

    def pieces(self, desk: Desk, key: str, text: str) -> bytes:
        """Returns every piece, flat."""
        plan = self._matched(desk, key, text).plan
        cut = [entry.placed.piece for entry in plan.commission.cut]
        return encoded({"pieces": pieces_data(plan.made_up, plan.match, cut)})

    def slide(self, desk: Desk, key: str, text: str, hold: tuple[str, str, float]) -> bytes:
        """Returns what follows when one piece's grain mark lies at a place of the sett: (piece, axis, place)."""
        piece, axis, place = hold
        made = self._matched(desk, key, text)
        if piece not in made.prepared.problem.instances:
            raise refuse(f"pins.{piece}", "it isn't matched, so there is nothing to slide.", "Take another piece.")
        cloth, way = made.prepared.cloth, Axis(axis)
        sequence = cloth.weft if way is Axis.LEVEL else cloth.warp
        held = Pin(piece, Point(0.0, 0.0), way, place % sequence.repeat, "grain mark")
        pins = (*(pin for pin in made.pins if (pin.piece, pin.axis) != (piece, way)), held)
        return encoded(report.slide_data(made, match(made.prepared, pins, made.plan.match), held))

    def lesson(self, desk: Desk, key: str, text: str) -> bytes:
        """Returns the drafting record, told step by step."""
        return encoded(lesson_data(self._at_hand(desk, key, text)))

    def order(self, desk: Desk, key: str, text: str) -> bytes:
        """Returns the order of work."""
        return encoded(order_data(self._at_hand(desk, key, text)))

    def hours(self, desk: Desk, key: str, text: str) -> bytes:
        """Returns what there is to do by hand, and her times for it."""
        return encoded(hours_data(self._at_hand(desk, key, text)))

    def facings(self, desk: Desk, key: str, text: str) -> bytes:
        """Returns the shaping of each facing."""
        return encoded(facings_data(self._matched(desk, key, text).plan))

    def measurements(self, desk: Desk, text: str) -> bytes:
        """Returns where each measurement is taken, and how each one stands."""
        return encoded(measurements_data(text))

    def swatch(self, desk: Desk, told: str) -> bytes:
        """Returns a cloth as it would look."""
        return encoded(report.swatch_data(msgspec.json.decode(told)))

    def handed(self, desk: Desk, key: str, text: str) -> bytes:
        """Returns a plan for the other bench."""
        return pickle.dumps(self._matched(desk, key, text).plan)

    def _at_hand(self, desk: Desk, key: str, text: str) -> Plan:
        """Returns a plan for what doesn't ask where its bars fall: one that was answered at once will do."""
        made = self._plans.get(key) or self._quick.get(key) or self._matched(desk, key, text)
        return made.plan

    def _matched(self, desk: Desk, key: str, text: str) -> Matched:
        found = self._plans.get(key)
        if found is not None:
            return found

        def on_stage(stage: str) -> None:
            desk.look()
            desk.tell("stage", {"plan": key, "stage": stage, "says": report.STAGES[stage]})

        made = derive_bars(read_commission(text, NAME), on_stage, self._keep)
        self._plans.put(key, made)
        desk.tell("bars", {"plan": key})
        return made

    def _keep(self, stage: str, inputs: Commission, make: Callable[[], Made]) -> Made:
        return self._stages.have((stage, canonical_hash(inputs)), make)


class Table:
    """The second bench: the cloths laid, and everything that is printed."""

    def __init__(self) -> None:
        self._plans: Shelf[Plan] = Shelf(6)
        self._files: Shelf[tuple[File, ...]] = Shelf(2)
        self._layouts: Shelf[Layout] = Shelf(40)

    def warm(self, desk: Desk, handed: bytes) -> None:
        """Lays a plan for nobody."""
        lay_cloths(pickle.loads(handed), effort=1)

    def reckoning(self, desk: Desk, key: str, handed: bytes) -> bytes:
        """Returns what the cloths come to."""
        return encoded(report.reckoning_data(self._laid(desk, key, handed)))

    def layout(self, desk: Desk, key: str, handed: bytes, cloth: str) -> bytes:
        """Returns a cloth's layout as an SVG document."""
        plan = self._laid(desk, key, handed)
        try:
            return layout_svg(plan, plan.cloth_plan(cloth)).encode()
        except KeyError:
            raise refuse(f"cloths.{cloth}", "no piece is cut from it.", "") from None

    def differences(self, desk: Desk, taken: tuple[str, bytes], tried: tuple[str, bytes]) -> bytes:
        """Returns what differs between two plans."""
        plans = [self._laid(desk, key, handed) for key, handed in (taken, tried)]
        return encoded({"differences": report.differences_data(*plans)})

    def cut(self, desk: Desk, key: str, handed: bytes, pieces: list[str]) -> tuple[Change, ...]:
        """Returns what marks pieces as cut in the commission, as the plan lays them."""
        return cut_marks(self._laid(desk, key, handed), pieces)[0]

    def files(self, desk: Desk, key: str, handed: bytes) -> bytes:
        """Returns what can be printed or handed on."""
        return encoded({"files": report.files_data(self._laid(desk, key, handed))})

    def file(self, desk: Desk, key: str, handed: bytes, name: str) -> bytes:
        """Returns one file's bytes; "all.zip" is all of them."""
        made = self._made(desk, key, handed)
        if name == "all.zip":
            return _zipped(made)
        for file in made:
            if file.name == name:
                return file.content
        raise refuse(name[:60], "there is no such sheet.", "")

    def _made(self, desk: Desk, key: str, handed: bytes) -> tuple[File, ...]:
        found = self._files.get(key)
        if found is not None:
            return found
        plan = self._laid(desk, key, handed)
        desk.tell("stage", {"plan": key, "stage": "workbook", "says": report.STAGES["workbook"]})
        book = book_files(plan)
        desk.look()
        desk.tell("stage", {"plan": key, "stage": "sheets", "says": report.STAGES["sheets"]})
        return self._files.put(key, (*book, *sheet_files(plan, tuple(PAGES))))

    def _laid(self, desk: Desk, key: str, handed: bytes) -> Plan:
        found = self._plans.get(key)
        if found is not None:
            return found
        plan: Plan = pickle.loads(handed)
        desk.tell("stage", {"plan": key, "stage": "layout", "says": report.STAGES["layout"]})

        def on_length(cloth: str, part: float, length: float) -> bool:
            desk.tell("length", {"plan": key, **report.length_data(plan, cloth, part, length)})
            return desk.is_stopped()

        def keep(inputs: str, search: Callable[[], Layout]) -> Layout:
            known = self._layouts.get(inputs)
            layout = search() if known is None else known
            return layout if desk.is_stopped() else self._layouts.put(inputs, layout)

        try:
            laid = lay_cloths(plan, effort=EFFORT, on_length=on_length, keep=keep)
        except Refusal as refusal:
            desk.tell("refused", {"plan": key, "findings": [finding_data(f) for f in refusal.findings]})
            raise
        if desk.is_stopped():
            raise Stopped
        self._plans.put(key, laid)
        desk.tell("whole", {"plan": key})
        return laid


def _zipped(files: tuple[File, ...]) -> bytes:
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as archive:
        for file in files:
            archive.writestr(zipfile.ZipInfo(file.name, (2000, 1, 1, 0, 0, 0)), file.content, zipfile.ZIP_DEFLATED)
    return target.getvalue()


WORK: dict[str, Callable[[], Any]] = {"bars": Bars, "table": Table}
"""The benches by name."""
