"""Bringing a scan into the frame of another: common targets, then surfaces, and how far that is to be trusted."""

from dataclasses import replace

import numpy as np
from PySide6.QtWidgets import QCheckBox, QVBoxLayout, QWidget

from floorpan import edits
from floorpan.derive.matching import matching, what_is_left
from floorpan.errors import FloorpanError
from floorpan.geometry.registration import RADIUS_MM, SurfaceMatch
from floorpan.layout import Layout, ScanRef
from floorpan.scan.joining import FEWEST_TARGETS, Joined, Target, TargetFit, fit_targets
from floorpan_app.cards import join_words as words
from floorpan_app.cards.blocks import PartTitle, pressed, px, side_by_side, told
from floorpan_app.cards.form import Form
from floorpan_app.cards.join_told import join_told, targets_told
from floorpan_app.cards.notice import Notice
from floorpan_app.cards.rows import Row, Rows
from floorpan_app.cards.scans import scan_in_hand
from floorpan_app.cards.spelling import show_small
from floorpan_app.cards.tried import tried
from floorpan_app.desk import Desk, LaidPoints
from floorpan_app.jobs import Job
from floorpan_app.scans_in_hand import ScanMap

_TOOL = "point target"


class JoinPart(QWidget):
    """A part of the scan's card, for every scan but the first."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._chosen = ""
        self._there: tuple[float, float, float] | None = None
        self._parts: dict[str, QCheckBox] = {}
        self.title = PartTitle(words.JOIN)
        self.pick = pressed(words.PICK_TARGET, self._use, icon="pick-point")
        self.pick.setCheckable(True)
        self.asks = Notice()
        self.rows = Rows(words.PICK_TARGET)
        self.rows.row_chosen.connect(self._choose)
        self.form = Form(desk, Target, ("name",), self._commit)
        self.forget = pressed(words.FORGET_TARGET, self._forget)
        self._targets = told(second=True)
        self.join = pressed(words.JOIN_IT, self._join)
        self._match_on = PartTitle(words.MATCH_ON)
        self._mixed = told(words.MATCH_CARPET, second=True)
        self._areas = QWidget()
        self._areas_column = QVBoxLayout(self._areas)
        self._areas_column.setContentsMargins(0, 0, 0, 0)
        self._areas_column.setSpacing(px(2))
        self.match = pressed(words.MATCH_IT, self._match)
        self.stands = Notice()
        self.left = QCheckBox(words.SHOW_LEFT)
        self.left.clicked.connect(self._show_left)
        self.apart = pressed(words.TAKE_APART, self._take_apart)
        self._lay_out()
        desk.tool_changed.connect(self._tool_changed)
        desk.points_changed.connect(self._laid)
        desk.scans.changed.connect(self._scan_changed)

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        column.addWidget(self.title)
        column.addWidget(told(words.JOIN_NOTE, second=True))
        for piece in (self.pick, self.asks, self.rows, self.form, self.forget, self._targets, self.join):
            column.addWidget(piece)
        column.addWidget(self._match_on)
        column.addWidget(self._mixed)
        column.addWidget(self._areas)
        column.addLayout(side_by_side(self.match, self.apart))
        column.addWidget(self.stands)
        column.addWidget(self.left)

    def show_scan(self, scan: ScanRef | None) -> None:
        """How a scan is joined; hidden for the one that the others are joined to."""
        onto = self._onto(scan)
        self.setVisible(onto is not None)
        if scan is None or onto is None:
            # Nothing is left to pick targets on.
            if self._desk.tool == _TOOL:
                self._desk.use_tool("")
            return
        self.title.show_second(onto.name)
        ids = {target.id for target in scan.targets}
        self._chosen = self._chosen if self._chosen in ids else ""
        fit, fault = _fit(scan)
        self.rows.show_rows(self._rows(scan, fit), self._chosen)
        self.form.show_value(next((one for one in scan.targets if one.id == self._chosen), None))
        self.forget.setVisible(bool(self._chosen))
        self._targets.setText(fault or targets_told(scan, fit, self._desk.system))
        self.join.setEnabled(fit is not None and not fit.mirrored)
        self._show_areas(scan, onto)
        self.match.setEnabled(fit is not None or scan.joined is not None or scan.pose is not None)
        self.apart.setVisible(scan.joined is not None)
        sentence, tone = join_told(scan.joined, onto, self._desk.system)
        self.stands.say(sentence, tone)
        map = self._desk.scans.map
        self.left.setVisible(scan.joined is not None)
        self.left.setChecked(map is not None and map.scan_id == scan.id)
        self._ask()

    def told(self) -> str:
        """How well the targets agree, as it is told."""
        return self._targets.text()

    # What is shown.

    def _onto(self, scan: ScanRef | None) -> ScanRef | None:
        """The scan that one is joined to: what its join says, else the first."""
        scans = self._desk.layout.scans
        if scan is None or scan is scans[0]:
            return None
        return scans[0] if scan.joined is None else self._desk.layout.scan(scan.joined.onto)

    def _rows(self, scan: ScanRef, fit: TargetFit | None) -> list[Row]:
        rows = []
        for number, target in enumerate(scan.targets, 1):
            left = show_small(float(fit.residual_mm[number - 1]), self._desk.system) if fit else ""
            rows.append(
                Row(
                    id=target.id,
                    letter=str(number),
                    title=target.name or words.TARGET_NAME.format(n=number),
                    mark="short" if fit is not None and fit.odd == target.id else None,
                    value=left,
                )
            )
        return rows

    def _show_areas(self, scan: ScanRef, onto: ScanRef) -> None:
        """A box to tick for each part of the other scan; carpet moves a floor, so parts without it are proposed."""
        ids = [area.id for area in onto.areas]
        if list(self._parts) != ids:
            for box in self._parts.values():
                box.deleteLater()
            self._parts = {area.id: QCheckBox(area.kind.capitalize()) for area in onto.areas}
            for box in self._parts.values():
                self._areas_column.addWidget(box)
            joined = scan.joined.areas if scan.joined is not None else ()
            for id, box in self._parts.items():
                box.setChecked(id in joined)
        mixed = (scan.role == "carpet") != (onto.role == "carpet")
        self._mixed.setVisible(mixed)
        self._match_on.setVisible(bool(ids))
        self._areas.setVisible(bool(ids))

    def _ask(self) -> None:
        scan = scan_in_hand(self._desk)
        onto = self._onto(scan)
        if self._desk.tool != _TOOL or scan is None or onto is None:
            self.asks.say("")
        elif self._there is None:
            self.asks.say(words.CLICK_THERE.format(name=onto.name), "next")
        else:
            self.asks.say(words.CLICK_HERE.format(name=scan.name), "next")

    # Targets.

    def _use(self) -> None:
        self._there = None
        self._desk.use_tool("" if self._desk.tool == _TOOL else _TOOL)

    def _tool_changed(self, tool: str) -> None:
        self.pick.setChecked(tool == _TOOL)
        scan = scan_in_hand(self._desk)
        onto = self._onto(scan)
        if tool == _TOOL and onto is not None:
            self._desk.scans.show_alone(onto.id)
        else:
            self._there = None
            self._desk.scans.show_alone("")
        self._ask()

    def _laid(self, laid: LaidPoints | None) -> None:
        """The target on the other scan first, then the same one on this: each scan is shown alone meanwhile."""
        scan = scan_in_hand(self._desk)
        onto = self._onto(scan)
        if laid is None or laid.kind != "target" or scan is None or onto is None:
            return
        at = laid.points_mm[0]
        if laid.scan_id == onto.id:
            self._there = at
            self._desk.scans.show_alone(scan.id)
        elif laid.scan_id == scan.id and self._there is not None:
            there, self._there = self._there, None
            tried(
                self._desk,
                words.TARGET_ENTRY,
                lambda layout: edits.add_target(layout, scan.id, here_mm=at, there_mm=there),
            )
            self._desk.scans.show_alone(onto.id)
        self._desk.lay_points(None)
        self._ask()

    def _choose(self, id: str) -> None:
        self._chosen = "" if id == self._chosen else id
        self.show_scan(scan_in_hand(self._desk))

    def _commit(self, name: str, value: object) -> str:
        scan, id = scan_in_hand(self._desk), self._chosen
        target = next((one for one in scan.targets if one.id == id), None) if scan is not None else None
        if scan is None or target is None:
            return ""
        changed = replace(target, name=str(value))
        return tried(
            self._desk,
            words.TARGET_CHANGE_ENTRY,
            lambda layout: edits.set_target(layout, scan.id, id, changed),
        )

    def _forget(self) -> None:
        scan, id = scan_in_hand(self._desk), self._chosen
        if scan is not None and id:
            tried(
                self._desk,
                words.FORGET_TARGET_ENTRY,
                lambda layout: edits.set_target(layout, scan.id, id, None),
            )

    # Joins.

    def _join(self) -> None:
        scan = scan_in_hand(self._desk)
        onto = self._onto(scan)
        if scan is not None and onto is not None:
            self._desk.use_tool("")
            tried(
                self._desk,
                words.JOIN_ENTRY,
                lambda layout: edits.join_by_targets(layout, scan.id, onto.id),
            )

    def _match(self) -> None:
        scan = scan_in_hand(self._desk)
        onto = self._onto(scan)
        if scan is None or onto is None:
            return
        self._desk.use_tool("")
        layout, bench = self._desk.document.adopted, self._desk.judging.bench
        areas = tuple(id for id, box in self._parts.items() if box.isChecked())
        job = Job(
            words.MATCHING.format(name=scan.name, onto=onto.name),
            lambda: matching(bench, layout, scan.id, onto.id, areas),
            self,
        )
        job.succeeded.connect(lambda found: self._matched(scan, onto, found))
        self._run(job)

    def _matched(self, scan: ScanRef, onto: ScanRef, found: tuple[Joined, SurfaceMatch]) -> None:
        joined, match = found
        # What was asked for may have been taken out, or read anew, while it was worked out.
        if scan not in self._desk.layout.scans or onto not in self._desk.layout.scans:
            return

        def edit(layout: Layout) -> Layout:
            return edits.join(layout, scan.id, joined)

        if not tried(self._desk, words.MATCH_ENTRY, edit) and self.left.isChecked():
            self._lay_map(scan, onto, match)

    def _take_apart(self) -> None:
        scan = scan_in_hand(self._desk)
        if scan is not None:
            self._desk.scans.lay_map(None)
            tried(self._desk, words.TAKE_APART_ENTRY, lambda layout: edits.take_apart(layout, scan.id))

    # What is left.

    def _show_left(self, wanted: bool) -> None:
        scan = scan_in_hand(self._desk)
        onto = self._onto(scan)
        if scan is None or onto is None or not wanted:
            self._desk.scans.lay_map(None)
            return
        layout, bench = self._desk.document.adopted, self._desk.judging.bench
        job = Job(
            words.MATCHING.format(name=scan.name, onto=onto.name),
            lambda: what_is_left(bench, layout, scan.id),
            self,
        )
        job.succeeded.connect(lambda match: self._lay_map(scan, onto, match))
        self._run(job)

    def _lay_map(self, scan: ScanRef, onto: ScanRef, match: SurfaceMatch | None) -> None:
        if match is None or scan.id not in {one.id for one in self._desk.layout.scans}:
            self._desk.scans.lay_map(None)
            return
        most = max(float(np.percentile(np.abs(match.off_mm), 98.0)), 0.05)
        self._desk.scans.lay_map(
            ScanMap(
                scan_id=scan.id,
                title=words.LEFT_TITLE.replace("{name}", onto.name),
                at_mm=match.pose.inverse().apply(match.at_mm),
                value_mm=match.off_mm,
                least_mm=-most,
                greatest_mm=most,
                within_mm=3.0 * RADIUS_MM,
            )
        )

    def _run(self, job: Job) -> None:
        job.failed.connect(self._failed)
        job.ended.connect(job.deleteLater)
        self._desk.judging.threads.run(job)
        self._desk.judging.working.emit(job)

    def _failed(self, fault: object) -> None:
        if isinstance(fault, FloorpanError):
            self.stands.say(f"{fault.what} {fault.remedy}", "short")
        else:
            self._desk.judging.failed.emit(fault)

    def _scan_changed(self) -> None:
        map = self._desk.scans.map
        scan = scan_in_hand(self._desk)
        self.left.setChecked(map is not None and scan is not None and map.scan_id == scan.id)


def _fit(scan: ScanRef) -> tuple[TargetFit | None, str]:
    """What the targets of a scan make, or why they make nothing yet."""
    if len(scan.targets) < FEWEST_TARGETS:
        return None, words.TARGETS_TOO_FEW.format(n=FEWEST_TARGETS - len(scan.targets))
    try:
        return fit_targets(scan.targets), ""
    except FloorpanError as fault:
        return None, f"{fault.what} {fault.remedy}"
