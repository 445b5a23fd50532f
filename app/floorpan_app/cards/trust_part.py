"""Is the scan good enough to cut from: known lengths against the tape, straight edges, and what they come to."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from PySide6.QtWidgets import QCheckBox, QVBoxLayout, QWidget

from floorpan import edits
from floorpan.errors import FloorpanError
from floorpan.layout import ScanRef
from floorpan.scan.acceptance import ScanDoubt, scan_doubt
from floorpan.scan.known_lengths import KnownLength, ScaleCheck, check_lengths
from floorpan.scan.straight_edges import StraightEdge, check_edge
from floorpan.scan.twist import up_in_scan
from floorpan.units import show_length, show_number
from floorpan_app.cards import scan_words
from floorpan_app.cards.blocks import PartTitle, pressed, px, side_by_side, told
from floorpan_app.cards.form import FIELD_WIDTH, Form
from floorpan_app.cards.notice import Notice
from floorpan_app.cards.rows import Row, Rows
from floorpan_app.cards.scans import scan_in_hand
from floorpan_app.cards.spelling import show_small, spelling_of
from floorpan_app.cards.tried import tried
from floorpan_app.cards.twist_rows import edge_name, length_name, lone_level, twist_rows
from floorpan_app.desk import Desk, LaidPoints
from floorpan_app.theme.record import Verdict
from floorpan_app.widgets.length_field import LengthField

_LENGTH, _EDGE = "point length", "point straight edge"


class TrustPart(QWidget):
    """A part of the scan's card."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._chosen = ""
        # How far double walls of a scan lie apart is found elsewhere on the card.
        self.apart_mm: Callable[[ScanRef], float] = lambda scan: 0.0
        self.length = pressed(scan_words.KNOWN_LENGTH, lambda: self._use(_LENGTH), icon="measure")
        self.edge = pressed(scan_words.STRAIGHT_EDGE, lambda: self._use(_EDGE), icon="level")
        for button in (self.length, self.edge):
            button.setCheckable(True)
        self.asks = Notice()
        parse, show = spelling_of("mm", desk.system)
        self.taped = LengthField(parse, show, name=scan_words.TAPED, faults=(FloorpanError,))
        self.taped.setFixedWidth(px(FIELD_WIDTH))
        self.taped.valueChosen.connect(self._tape)
        self.asks.below.addLayout(side_by_side(told(scan_words.TAPED), self.taped))
        self.title = PartTitle(scan_words.TRUST)
        self.rows = Rows(scan_words.TRUST)
        self.rows.row_chosen.connect(self._choose)
        self.form = Form(desk, KnownLength, ("name", "taped_mm", "tape_u_mm"), self._commit)
        self.edge_form = Form(desk, StraightEdge, ("name",), self._commit_edge)
        self.levelled = QCheckBox(scan_words.LEVELLED)
        self.levelled.clicked.connect(self._commit_levelled)
        self._lone = told(second=True)
        self.forget = pressed(scan_words.FORGET_MEASURE, self._forget)
        self.notice = Notice()
        self.scale = pressed("", self._scale)
        self.notice.below.addWidget(self.scale)
        self._sum = told(second=True)
        self.carry = pressed("", self._carry)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        column.addWidget(self.title)
        column.addLayout(side_by_side(self.length, self.edge))
        column.addWidget(self.asks)
        column.addWidget(self.rows)
        column.addWidget(self._lone)
        for piece in (self.form, self.edge_form, self.levelled, self.forget, self.notice):
            column.addWidget(piece)
        column.addWidget(self._sum)
        column.addWidget(self.carry)
        desk.tool_changed.connect(self._tool_changed)
        desk.points_changed.connect(self._laid)

    def show_scan(self, scan: ScanRef | None) -> None:
        """What was measured about a scan."""
        self.setVisible(scan is not None)
        if scan is None:
            return
        ids = {one.id for one in scan.lengths} | {one.id for one in scan.edges}
        self._chosen = self._chosen if self._chosen in ids else ""
        found = check_lengths(scan.lengths)
        self.title.show_second(scan_words.SCAN_LESS_TAPE if scan.lengths else "")
        system = self._desk.system
        rows = self._length_rows(scan, found) + self._edge_rows(scan) + list(twist_rows(scan, system))
        self.rows.show_rows(rows, self._chosen)
        lone = lone_level(scan, system)
        self._lone.setText(lone)
        self._lone.setVisible(bool(lone))
        self.form.show_value(next((one for one in scan.lengths if one.id == self._chosen), None))
        edge = next((one for one in scan.edges if one.id == self._chosen), None)
        self.edge_form.show_value(edge)
        self.levelled.setVisible(edge is not None)
        self.levelled.setChecked(edge is not None and edge.levelled)
        self.forget.setVisible(bool(self._chosen))
        self._say(found)
        self._show_sum(scan)
        self.taped.set_units(*spelling_of("mm", self._desk.system))
        self._show_asked(self._desk.points)
        self._tool_changed(self._desk.tool)

    def told(self) -> str:
        """What all that was measured comes to."""
        return self._sum.text()

    def lone(self) -> str:
        """What is missing where an edge lay true and no other makes a pair with it."""
        return self._lone.text()

    # What is shown.

    def _length_rows(self, scan: ScanRef, found: ScaleCheck | None) -> list[Row]:
        system = self._desk.system
        rows = []
        for one, check in zip(scan.lengths, found.lengths if found is not None else (), strict=True):
            sign = "+" if check.error_mm >= 0.0 else "\u2212"
            rows.append(
                Row(
                    id=one.id,
                    mark=_mark(check.verdict),
                    title=one.name or length_name(one.id),
                    tail=show_length(one.taped_mm, system, digits=1),
                    value=f"{sign}{show_small(abs(check.error_mm), system)}",
                    trust=f"\u00b1 {show_small(check.u_mm, system)}",
                )
            )
        return rows

    def _edge_rows(self, scan: ScanRef) -> list[Row]:
        system = self._desk.system
        rows = []
        for one in scan.edges:
            check = check_edge(one)
            rows.append(
                Row(
                    id=one.id,
                    mark=_mark(check.verdict),
                    title=one.name or edge_name(one.id),
                    tail=scan_words.EDGE_OVER.format(
                        over=show_length(check.length_mm, system, digits=0, with_unit=True)
                    ),
                    value=show_small(check.bow_mm, system),
                    trust=f"\u00b1 {show_small(check.u_mm, system)}",
                )
            )
        return rows

    def _say(self, found: ScaleCheck | None) -> None:
        self.scale.setVisible(found is not None and found.proposed)
        if found is None or found.verdict == "clear":
            self.notice.say("")
        elif not found.agrees:
            self.notice.say(scan_words.BENT, "short")
        elif found.proposed:
            percent = show_number(100.0 * (found.factor - 1.0), 2)
            u = show_number(100.0 * found.u_factor, 2)
            said = scan_words.ONE_FACTOR.format(n=percent, u=u)
            placed = any(True for _ in self._desk.layout.things())
            self.notice.say(f"{said} {scan_words.STANDS_STILL}" if placed else said, "close")
            self.scale.setText(scan_words.SCALE_IT.format(n=percent))
        else:
            self.notice.say(scan_words.NOT_SURE, "close")

    def _show_sum(self, scan: ScanRef) -> None:
        doubt, system = self._doubt(scan), self._desk.system
        parts = "; ".join(
            scan_words.PART_OF_DOUBT.format(
                name=part.name, n=show_small(2.0 * part.standard_mm, system), source=part.source
            )
            for part in doubt.parts
        )
        u = f"{show_small(doubt.u_mm, system)} {system}"
        self._sum.setText(scan_words.COMES_TO.format(u=u, parts=parts))
        self.carry.setText(scan_words.CARRY.format(u=u))
        self.carry.setVisible(bool(scan.lengths or scan.edges or self.apart_mm(scan)))
        self.carry.setEnabled(abs(doubt.u_mm - scan.good_to_mm) > 0.005)

    def _doubt(self, scan: ScanRef) -> ScanDoubt:
        return scan_doubt(scan.lengths, scan.edges, apart_mm=self.apart_mm(scan), up=up_in_scan(scan.pose))

    def _show_asked(self, laid: LaidPoints | None) -> None:
        asks = laid is not None and laid.kind == "length"
        self.asks.say(scan_words.TAPE_ASKED if asks else "", "next")

    # What is done.

    def _use(self, tool: str) -> None:
        self._desk.use_tool("" if self._desk.tool == tool else tool)

    def _tool_changed(self, tool: str) -> None:
        self.length.setChecked(tool == _LENGTH)
        self.edge.setChecked(tool == _EDGE)

    def _laid(self, laid: LaidPoints | None) -> None:
        self._show_asked(laid)
        if laid is None or self._desk.step != "scan":
            return
        if laid.kind == "length":
            self.taped.line_edit().setFocus()
        elif laid.kind == "straight edge":
            points, scan_id = laid.points_mm, laid.scan_id
            tried(
                self._desk,
                scan_words.EDGE_ENTRY,
                lambda layout: edits.add_edge(layout, scan_id, points),
            )
            self._desk.use_tool("")

    def _tape(self, mm: float) -> None:
        """The length between the two places that were pointed at."""
        laid = self._desk.points
        if laid is None or laid.kind != "length":
            return
        ends, scan_id = (laid.points_mm[0], laid.points_mm[1]), laid.scan_id
        fault = tried(
            self._desk, scan_words.LENGTH_ENTRY, lambda layout: edits.add_length(layout, scan_id, ends, mm)
        )
        if fault:
            self.taped.set_fault(fault)
        else:
            self._desk.use_tool("")

    def _choose(self, id: str) -> None:
        self._chosen = "" if id == self._chosen else id
        self.show_scan(scan_in_hand(self._desk))

    def _commit(self, name: str, value: object) -> str:
        changes: dict[str, Any] = {name: value}
        scan, id = scan_in_hand(self._desk), self._chosen
        known = next((one for one in scan.lengths if one.id == id), None) if scan is not None else None
        if scan is None or known is None:
            return ""
        return tried(
            self._desk,
            scan_words.LENGTH_ENTRY,
            lambda layout: edits.set_length(layout, scan.id, id, replace(known, **changes)),
        )

    def _commit_levelled(self, wanted: bool) -> None:
        if self._commit_edge("levelled", wanted, scan_words.LEVELLED_ENTRY):
            self.levelled.setChecked(not wanted)

    def _commit_edge(self, name: str, value: object, entry: str = scan_words.EDGE_ENTRY) -> str:
        changes: dict[str, Any] = {name: value}
        scan, id = scan_in_hand(self._desk), self._chosen
        edge = next((one for one in scan.edges if one.id == id), None) if scan is not None else None
        if scan is None or edge is None:
            return ""
        return tried(
            self._desk,
            entry,
            lambda layout: edits.set_edge(layout, scan.id, id, replace(edge, **changes)),
        )

    def _forget(self) -> None:
        scan, id = scan_in_hand(self._desk), self._chosen
        if scan is not None and id:
            gone = edits.set_length if id.startswith("length") else edits.set_edge
            tried(self._desk, scan_words.FORGET_MEASURE_ENTRY, lambda layout: gone(layout, scan.id, id, None))

    def _scale(self) -> None:
        scan = scan_in_hand(self._desk)
        found = check_lengths(scan.lengths) if scan is not None else None
        if scan is not None and found is not None:
            factor = found.factor
            tried(
                self._desk,
                scan_words.SCALE_ENTRY,
                lambda layout: edits.scale_scan(layout, scan.id, factor),
            )

    def _carry(self) -> None:
        scan = scan_in_hand(self._desk)
        if scan is None:
            return
        doubt = self._doubt(scan)
        good = min(max(round(doubt.u_mm, 2), 0.05), 20.0)
        note = "; ".join(f"{part.name}: {part.source}" for part in doubt.parts)[:200]
        tried(
            self._desk,
            scan_words.CARRY_ENTRY,
            lambda layout: edits.change_scan(layout, scan.id, good_to_mm=good, good_to_note=note),
        )


def _mark(verdict: str) -> Verdict:
    marks: dict[str, Verdict] = {"clear": "clear", "close": "close", "short": "short"}
    return marks[verdict]
