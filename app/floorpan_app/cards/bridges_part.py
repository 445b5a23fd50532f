"""Small holes of a scan closed on the builder's word, and what of that did not work."""

from dataclasses import replace
from typing import Any

from PySide6.QtWidgets import QVBoxLayout, QWidget

from floorpan import edits
from floorpan.layout import ScanRef
from floorpan.scan.bridges import Bridge, Bridged
from floorpan_app.cards import scan_words
from floorpan_app.cards.blocks import PartTitle, pressed, px, told
from floorpan_app.cards.form import Form
from floorpan_app.cards.notice import Notice
from floorpan_app.cards.rows import Row, Rows
from floorpan_app.cards.scans import scan_in_hand
from floorpan_app.cards.spelling import show_small
from floorpan_app.cards.tried import tried
from floorpan_app.desk import Desk, LaidPoints

_TOOL = "point hole"


class BridgesPart(QWidget):
    """A part of the scan's card."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._chosen = ""
        self.pick = pressed(scan_words.BRIDGE_PICK, self._use, icon="pick-point")
        self.pick.setCheckable(True)
        self.rows = Rows(scan_words.BRIDGES)
        self.rows.row_chosen.connect(self._choose)
        self.notice = Notice()
        self.form = Form(desk, Bridge, ("longest_mm", "shape"), self._commit)
        self.forget = pressed(scan_words.BRIDGE_FORGET, self._forget)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        column.addWidget(PartTitle(scan_words.BRIDGES))
        column.addWidget(told(scan_words.BRIDGES_NOTE, second=True))
        for piece in (self.pick, self.notice, self.rows, self.form, self.forget):
            column.addWidget(piece)
        desk.tool_changed.connect(self._tool_changed)
        desk.points_changed.connect(self._laid)

    def show_scan(self, scan: ScanRef | None, bridged: Bridged | None) -> None:
        """The bridges of a scan, and which of them were laid, once it is ready."""
        self.setVisible(scan is not None)
        bridges = scan.bridges if scan is not None else ()
        if not any(bridge.id == self._chosen for bridge in bridges):
            self._chosen = ""
        self.rows.show_rows([self._row(bridge, bridged) for bridge in bridges], self._chosen)
        chosen = next((bridge for bridge in bridges if bridge.id == self._chosen), None)
        self.form.show_value(chosen)
        self.forget.setVisible(chosen is not None)
        missed = bridged.missed if bridged is not None else ()
        self.notice.say(f"{missed[0].what} {missed[0].remedy}" if missed else "", "short")
        self._tool_changed(self._desk.tool)

    def _row(self, bridge: Bridge, bridged: Bridged | None) -> Row:
        name = scan_words.BRIDGE_NAME.format(n=bridge.id.rpartition("-")[2])
        if bridged is None:
            return Row(id=bridge.id, title=name, second=scan_words.CLEANING_SOON)
        if bridge.id in bridged.ids:
            u = show_small(bridged.u_mm[bridged.ids.index(bridge.id)], self._desk.system)
            return Row(id=bridge.id, title=name, second=scan_words.BRIDGE_LAID, trust=f"\u00b1 {u}")
        missed = next((one for one in bridged.missed if one.id == bridge.id), None)
        said = missed.what if missed is not None else scan_words.BRIDGE_TWICE
        return Row(id=bridge.id, title=name, second=said, mark="short" if missed is not None else None)

    def _use(self) -> None:
        self._desk.use_tool("" if self._desk.tool == _TOOL else _TOOL)

    def _tool_changed(self, tool: str) -> None:
        self.pick.setChecked(tool == _TOOL)

    def _laid(self, laid: LaidPoints | None) -> None:
        if laid is None or laid.kind != "hole" or self._desk.step != "scan":
            return
        at, scan_id = laid.points_mm[0], laid.scan_id
        if not tried(
            self._desk, scan_words.BRIDGE_ENTRY, lambda layout: edits.add_bridge(layout, scan_id, at)
        ):
            self._chosen = self._desk.layout.scan(scan_id).bridges[-1].id
        self._desk.use_tool("")
        self._show_again()

    def _choose(self, id: str) -> None:
        self._chosen = "" if id == self._chosen else id
        self._show_again()

    def _show_again(self) -> None:
        scan, bench = scan_in_hand(self._desk), self._desk.judging.bench
        ready = scan is not None and bench.is_prepared(scan)
        self.show_scan(scan, bench.bridged(scan) if scan is not None and ready else None)

    def _commit(self, name: str, value: object) -> str:
        changes: dict[str, Any] = {name: value}
        scan, id = scan_in_hand(self._desk), self._chosen
        bridge = next((one for one in scan.bridges if one.id == id), None) if scan is not None else None
        if scan is None or bridge is None:
            return ""
        return tried(
            self._desk,
            scan_words.BRIDGE_CHANGE_ENTRY,
            lambda layout: edits.set_bridge(layout, scan.id, id, replace(bridge, **changes)),
        )

    def _forget(self) -> None:
        scan, id = scan_in_hand(self._desk), self._chosen
        if scan is not None and id:
            tried(
                self._desk,
                scan_words.BRIDGE_FORGET_ENTRY,
                lambda layout: edits.set_bridge(layout, scan.id, id, None),
            )
