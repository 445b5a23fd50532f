"""Probe points: places measured by hand where the scan saw nothing, or saw wrongly."""

from dataclasses import replace
from typing import Any

import numpy as np
from PySide6.QtWidgets import QVBoxLayout, QWidget

from floorpan import edits
from floorpan.frames import STILL, Pose, Vector
from floorpan.layout import ScanRef
from floorpan.report.naming import place_text
from floorpan.scan.probes import Probe
from floorpan_app.cards import scan_words
from floorpan_app.cards.blocks import PartTitle, pressed, px, side_by_side, told
from floorpan_app.cards.form import Form
from floorpan_app.cards.place_form import PlaceForm
from floorpan_app.cards.rows import Row, Rows
from floorpan_app.cards.scans import scan_in_hand
from floorpan_app.cards.spelling import show_small
from floorpan_app.cards.tried import tried
from floorpan_app.desk import Desk, LaidPoints

_TOOL = "point probe"


class ProbesPart(QWidget):
    """A part of the scan's card. What was picked stays picked; what the rule or gauge told is typed as the offset."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._chosen = ""
        self.pick = pressed(scan_words.PROBE_PICK, self._use, icon="probe")
        self.pick.setCheckable(True)
        self.type_one = pressed(scan_words.PROBE_TYPE, self._type_one, icon="add")
        self.rows = Rows(scan_words.PROBES)
        self.rows.row_chosen.connect(self._choose)
        self.offset = PlaceForm(desk, scan_words.PROBE_OFFSET, self._move)
        self.form = Form(
            desk, Probe, ("kind", "u_mm", "overrides_radius_mm", "note"), self._commit, wide=("note",)
        )
        self.forget = pressed(scan_words.PROBE_FORGET, self._forget)
        self._of_one = QWidget()
        inside = QVBoxLayout(self._of_one)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.setSpacing(px(8))
        for piece in (told(scan_words.PROBE_OFFSET_NOTE, second=True), self.offset, self.form, self.forget):
            inside.addWidget(piece)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        column.addWidget(PartTitle(scan_words.PROBES))
        column.addWidget(told(scan_words.PROBES_NOTE, second=True))
        column.addLayout(side_by_side(self.pick, self.type_one))
        column.addWidget(self.rows)
        column.addWidget(self._of_one)
        desk.tool_changed.connect(self._tool_changed)
        desk.points_changed.connect(self._laid)

    def show_scan(self, scan: ScanRef | None) -> None:
        """The probes of a scan."""
        self.setVisible(scan is not None)
        probes = scan.probes if scan is not None else ()
        if not any(probe.id == self._chosen for probe in probes):
            self._chosen = ""
        self.rows.show_rows([self._row(scan, probe) for probe in probes if scan is not None], self._chosen)
        probe = next((probe for probe in probes if probe.id == self._chosen), None)
        self._of_one.setVisible(probe is not None)
        self.form.show_value(probe)
        if probe is not None and scan is not None:
            self.offset.show_place(_turned(scan.pose or STILL, probe.offset_mm))
        self._tool_changed(self._desk.tool)

    def _row(self, scan: ScanRef, probe: Probe) -> Row:
        system, layout = self._desk.system, self._desk.layout
        x, y, z = (scan.pose or STILL).apply(np.add(probe.at_mm, probe.offset_mm))
        where = place_text((float(x), float(y), float(z)), layout, system)
        return Row(
            id=probe.id,
            title=probe.note or scan_words.PROBE_NAME.format(n=probe.id.rpartition("-")[2]),
            second=where,
            trust=f"\u00b1 {show_small(probe.u_mm, system)}",
        )

    def _use(self) -> None:
        self._desk.use_tool("" if self._desk.tool == _TOOL else _TOOL)

    def _tool_changed(self, tool: str) -> None:
        self.pick.setChecked(tool == _TOOL)

    def _laid(self, laid: LaidPoints | None) -> None:
        if laid is not None and laid.kind == "probe" and self._desk.step == "scan":
            self._add(laid.scan_id, laid.points_mm[0])
            self._desk.use_tool("")

    def _type_one(self) -> None:
        scan = scan_in_hand(self._desk)
        if scan is not None:
            x, y, z = (scan.pose or STILL).inverse().apply(np.zeros(3))
            self._add(scan.id, (float(x), float(y), float(z)))

    def _add(self, scan_id: str, at: Vector) -> None:
        if not tried(
            self._desk, scan_words.PROBE_ENTRY, lambda layout: edits.add_probe(layout, scan_id, at_mm=at)
        ):
            self._chosen = self._desk.layout.scan(scan_id).probes[-1].id
            self.offset.start_again()
            self.show_scan(scan_in_hand(self._desk))
            self.offset.fields["z"].setFocus()

    def _choose(self, id: str) -> None:
        self._chosen = "" if id == self._chosen else id
        self.offset.start_again()
        self.show_scan(scan_in_hand(self._desk))

    def _move(self, offset: Vector) -> str:
        scan = scan_in_hand(self._desk)
        if scan is None:
            return ""
        return self._change(offset_mm=_turned((scan.pose or STILL).inverse(), offset))

    def _commit(self, name: str, value: object) -> str:
        changes: dict[str, Any] = {name: value}
        return self._change(**changes)

    def _change(self, **changes: Any) -> str:
        scan = scan_in_hand(self._desk)
        probe = (
            next((one for one in scan.probes if one.id == self._chosen), None) if scan is not None else None
        )
        if scan is None or probe is None:
            return ""
        return tried(
            self._desk,
            scan_words.PROBE_CHANGE_ENTRY,
            lambda layout: edits.set_probe(layout, scan.id, replace(probe, **changes)),
        )

    def _forget(self) -> None:
        scan, id = scan_in_hand(self._desk), self._chosen
        if scan is not None and id:
            tried(
                self._desk,
                scan_words.PROBE_FORGET_ENTRY,
                lambda layout: edits.forget_probe(layout, scan.id, id),
            )


def _turned(pose: Pose, step: Vector) -> Vector:
    """A step turned as a pose turns, not shifted."""
    x, y, z = pose.apply(np.array(step)) - np.array(pose.shift_mm)
    return float(x), float(y), float(z)
