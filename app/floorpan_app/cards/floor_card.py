"""Floor: the carpet, what the parts of the scan are, and what this car does not have."""

from dataclasses import replace

from PySide6.QtWidgets import QCheckBox, QVBoxLayout, QWidget

from floorpan import edits
from floorpan.checks import Finding
from floorpan.derive.floor import NO_CARPET
from floorpan.layout import AREA_KINDS, Area, Box, Layout, ScanRef, Step
from floorpan.scan.carpet import BARE, Carpet, Layer
from floorpan_app.cards import scan_words, words
from floorpan_app.cards.blocks import PartTitle, Rule, at_left, pressed, px, side_by_side, told
from floorpan_app.cards.box_form import BoxForm
from floorpan_app.cards.card import Card, Need
from floorpan_app.cards.carpet_form import CarpetForm
from floorpan_app.cards.draw_part import DrawPart
from floorpan_app.cards.form import FIELD_WIDTH, Form
from floorpan_app.cards.laid_part import LaidPart
from floorpan_app.cards.quiet_combo import QuietCombo
from floorpan_app.cards.rows import Row, Rows
from floorpan_app.cards.scans import crop_or_whole, lies_along, need_axes, scan_in_hand
from floorpan_app.cards.tried import tried

_LIES = (
    ("rest", scan_words.CARPET_AS_REST),
    ("none", scan_words.CARPET_NONE),
    ("own", scan_words.CARPET_OWN),
)


class FloorCard(Card):
    """The carpet, layer by layer; parts of the first scan, by a box, an outline or a brush; what the car has not."""

    step: Step = "floor"

    def build(self) -> None:
        self._chosen = ""
        self.form = Form(self.desk, Layout, ("carpet_mm",), self._carpet)
        self.rows = Rows(words.NAMED_PARTS)
        self.rows.row_chosen.connect(self._choose)
        self._none = told(words.NOTHING_NAMED, second=True)
        self._build_part()
        self.kind = QuietCombo([(kind, kind) for kind in AREA_KINDS if kind != "scan"], words.WHAT_IT_IS)
        self.kind.show_key("dash")
        self.name_one = pressed(words.NAME_A_PART, self.name_a_part, icon="add")
        self.absent = {kind: QCheckBox(told_) for kind, told_ in words.ABSENT.items()}
        for kind, box in self.absent.items():
            box.clicked.connect(lambda absent, kind=kind: self._mark_absent(kind, absent))
        self.layers = CarpetForm(self.desk, self._lay)
        self.fold = pressed(scan_words.BY_LAYER, lambda: None, role="link")
        self.fold.setCheckable(True)
        self.fold.toggled.connect(self.layers.setVisible)
        self.layers.hide()
        self.add(self.form, told(words.CARPET, second=True), at_left(self.fold), self.layers)
        self.laid = LaidPart(self.desk)
        self.add(self.laid, Rule(), PartTitle(words.NAMED_PARTS))
        self.add(self._none, self.rows, self.part, side_by_side(self.kind, self.name_one))
        self.draw = DrawPart(self.desk, self.kind)
        self.kind.picked.connect(lambda _: self.refresh())
        self.add(told(words.NAME_A_PART_NOTE, second=True), self.draw, Rule())
        self.add(PartTitle(words.NOT_IN_THIS_CAR))
        self.add(*self.absent.values())

    def _build_part(self) -> None:
        self.part = QWidget()
        self.stands_for = QuietCombo((), words.STANDS_FOR_LABEL)
        self.stands_for.setMinimumWidth(px(FIELD_WIDTH))
        self.stands_for.picked.connect(self._stand_for)
        self.box = BoxForm(self.desk, self._reshape)
        self.lies = QuietCombo(_LIES, scan_words.CARPET_HERE)
        self.lies.setMinimumWidth(px(FIELD_WIDTH))
        self.lies.picked.connect(self._lay_here)
        self.own_carpet = CarpetForm(self.desk, self._lay_own)
        self.forget = pressed(words.FORGET_PART, self._forget)
        column = QVBoxLayout(self.part)
        column.setContentsMargins(0, px(4), 0, px(4))
        column.setSpacing(px(8))
        column.addLayout(side_by_side(told(words.STANDS_FOR_LABEL), self.stands_for))
        column.addWidget(told(words.STANDS_FOR_NOTE, second=True))
        column.addLayout(side_by_side(told(scan_words.CARPET_HERE), self.lies))
        column.addWidget(self.own_carpet)
        column.addWidget(self.box)
        column.addWidget(self.forget)
        self.part.hide()

    def need(self) -> Need | None:
        return need_axes(self.desk)

    def lacks(self) -> str:
        return words.NEED_SCAN if scan_in_hand(self.desk) is None else ""

    def refresh(self) -> None:
        layout = self.desk.layout
        scan = scan_in_hand(self.desk)
        self.laid.follow()
        areas = scan.areas if scan is not None else ()
        names = {thing.id: thing.name for thing in layout.things()}
        self.form.show_value(layout)
        self.layers.show_carpet(layout.carpet(), "rest")
        self.layers.setVisible(self.fold.isChecked())
        if not any(area.id == self._chosen for area in areas):
            self._chosen = ""
        self.rows.show_rows([self._row(area, names) for area in areas], self._chosen)
        self._none.setVisible(not areas)
        self.name_one.setEnabled(
            scan is not None and crop_or_whole(scan, self.desk.judging.bench) is not None
        )
        self._show_part(scan, names)
        chosen = self._area(scan)
        self.draw.show_area(
            chosen.id if chosen is not None else "", chosen.kind if chosen is not None else ""
        )
        for kind, box in self.absent.items():
            box.setChecked(kind in layout.absent)

    def name_a_part(self) -> None:
        """A part more, beginning as the crop box, in hand to be shaped."""
        scan, kind = scan_in_hand(self.desk), self.kind.key()
        box = crop_or_whole(scan, self.desk.judging.bench) if scan is not None else None
        if scan is None or box is None:
            return
        entry = words.PART_ENTRY.format(kind=kind)
        if not tried(self.desk, entry, lambda layout: edits.add_area(layout, scan.id, kind, box)):
            after = scan_in_hand(self.desk)
            self._choose(after.areas[-1].id if after is not None else "")

    # What is shown.

    def _row(self, area: Area, names: dict[str, str]) -> Row:
        stands = names.get(area.stands_for, "")
        second = words.STANDS_FOR.format(name=stands) if stands else ""
        return Row(id=area.id, title=area.kind, second=second)

    def _show_part(self, scan: ScanRef | None, names: dict[str, str]) -> None:
        area = self._area(scan)
        self.part.setVisible(area is not None)
        if scan is None or area is None:
            return
        self.stands_for.offer([("", words.THE_SCAN_COUNTS), *names.items()])
        self.stands_for.show_key(area.stands_for)
        self._show_carpet(area)
        box = area.box
        along = scan.pose is not None and box is not None and lies_along(box, scan)
        self.box.show_box(box, self.desk.layout.driver_side, in_car_axes=along)

    def _show_carpet(self, area: Area) -> None:
        own = area.carpet
        self.lies.show_key("rest" if own is None else "own" if own.layers else "none")
        self.lies.setEnabled(area.kind not in NO_CARPET)
        self.own_carpet.setVisible(own is not None and bool(own.layers))
        self.own_carpet.show_carpet(self.desk.layout.carpet_on(area.id), area.id)

    def _area(self, scan: ScanRef | None) -> Area | None:
        areas = scan.areas if scan is not None else ()
        return next((area for area in areas if area.id == self._chosen), None)

    # What is done.

    def _choose(self, id: str) -> None:
        self._chosen = "" if id == self._chosen else id
        self.box.start_again()
        self.refresh()

    def _carpet(self, _name: str, value: object) -> str:
        carpet_mm = float(value)  # type: ignore[arg-type]
        return tried(self.desk, words.CARPET_ENTRY, lambda layout: edits.set_carpet(layout, carpet_mm))

    def _lay(self, carpet: Carpet) -> str:
        return tried(self.desk, words.CARPET_ENTRY, lambda layout: edits.lay_carpet(layout, carpet))

    def _lay_here(self, key: str) -> None:
        """The area's carpet: as on the rest, none, or its own, which begins as what lies on the rest."""
        layout = self.desk.layout
        rest = layout.carpet()
        own = rest if rest.layers else Carpet(layers=(Layer(loose_mm=1.0, squeezed_mm=1.0),))
        self._lay_own({"rest": None, "none": BARE, "own": own}[key])

    def _lay_own(self, carpet: Carpet | None) -> str:
        area = self._area(scan_in_hand(self.desk))
        return "" if area is None else self._change(replace(area, carpet=carpet))

    def show_findings(self, findings: tuple[Finding, ...]) -> None:
        # Findings change when the floor has been made ready, too.
        self.laid.follow()
        if not self.desk.document.previewing:
            self.draw.propose.setEnabled(self.desk.judging.bench.floors_ready(self.desk.layout))

    def _stand_for(self, thing: str) -> None:
        area = self._area(scan_in_hand(self.desk))
        if area is not None:
            self._change(replace(area, stands_for=thing))

    def _reshape(self, box: Box) -> str:
        area = self._area(scan_in_hand(self.desk))
        if any(low >= high for low, high in zip(box.least_mm, box.greatest_mm, strict=True)):
            return words.PART_INSIDE_OUT
        return "" if area is None else self._change(replace(area, box=box))

    def _change(self, changed: Area) -> str:
        scan = scan_in_hand(self.desk)
        if scan is None:
            return ""
        areas = tuple(changed if area.id == changed.id else area for area in scan.areas)
        entry = words.PART_CHANGE_ENTRY.format(kind=changed.kind)
        return tried(self.desk, entry, lambda layout: edits.change_scan(layout, scan.id, areas=areas))

    def _forget(self) -> None:
        scan = scan_in_hand(self.desk)
        area = self._area(scan)
        if scan is not None and area is not None:
            entry = words.PART_FORGET_ENTRY.format(kind=area.kind)
            tried(self.desk, entry, lambda layout: edits.remove_area(layout, scan.id, area.id))

    def _mark_absent(self, kind: str, absent: bool) -> None:
        tried(self.desk, words.ABSENT_ENTRY, lambda layout: edits.mark_absent(layout, kind, absent))
