"""The two centre lines, tunnel and dash: pointed at along them, kept with how far they are apart."""

from functools import partial

from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from floorpan import edits
from floorpan.errors import FloorpanError
from floorpan.layout import Layout, ScanRef
from floorpan.scan.centre_lines import LINE_KINDS, CentreLine, LineFit, LineKind, fit_line, lines_apart
from floorpan.units import show_length
from floorpan_app.cards import scan_words
from floorpan_app.cards.blocks import Facts, PartTitle, pressed, px, side_by_side, told
from floorpan_app.cards.scans import scan_with_axes
from floorpan_app.cards.spelling import show_small
from floorpan_app.cards.tried import tried
from floorpan_app.desk import Desk, LaidPoints

_LINE = " line"
_TOOL = "point "


class CentreLinesPart(QWidget):
    """A part of the axes' card."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.tools = {kind: self._tool(kind) for kind in LINE_KINDS}
        self.forget = {
            kind: pressed(scan_words.LINE_FORGET[kind], partial(self._forget, kind)) for kind in LINE_KINDS
        }
        self.facts = Facts()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        column.addWidget(PartTitle(scan_words.CENTRE_LINES))
        column.addWidget(told(scan_words.CENTRE_LINES_NOTE, second=True))
        column.addLayout(side_by_side(*self.tools.values()))
        column.addWidget(self.facts)
        column.addLayout(side_by_side(*self.forget.values()))
        desk.tool_changed.connect(self._tool_changed)
        desk.points_changed.connect(self._laid)

    def show_scan(self, scan: ScanRef | None) -> None:
        """The lines of a scan."""
        for button in self.tools.values():
            button.setEnabled(scan is not None)
        lines = {line.kind: line for line in scan.centre_lines} if scan is not None else {}
        for kind, button in self.forget.items():
            button.setVisible(kind in lines)
        self.facts.show_facts(self._facts(scan) if scan is not None and lines else [])
        self._tool_changed(self._desk.tool)

    def _facts(self, scan: ScanRef) -> list[tuple[str, str]]:
        if scan.pose is None:
            return [
                (scan_words.LINE_NAMES[line.kind], scan_words.LINE_AFTER_AXES) for line in scan.centre_lines
            ]
        fits: dict[str, LineFit] = {}
        rows = []
        for line in scan.centre_lines:
            try:
                fits[line.kind] = fit_line(line, scan.pose)
            except FloorpanError as fault:
                rows.append((scan_words.LINE_NAMES[line.kind], fault.what))
        for kind, fit in fits.items():
            front = fit.ends_mm[0]
            told_ = self._aside(fit.at(front), fit.u_at(front), scan_words.LINE_OFF)
            rows.append((scan_words.LINE_OFF_NAME[kind], told_))
        if len(fits) == 2:
            for name, end in ((scan_words.APART_FRONT, 0), (scan_words.APART_REAR, 1)):
                # At the dash, and as far back as the tunnel was picked.
                station = fits["dash" if end == 0 else "tunnel"].ends_mm[end]
                apart, u = lines_apart(fits["tunnel"], fits["dash"], station)
                rows.append((name, self._aside(apart, u, scan_words.LINE_APART)))
        return rows

    def _aside(self, aside_mm: float, u_mm: float, text: str) -> str:
        """So far to the driver's side or the passenger's, give or take."""
        layout, system = self._desk.layout, self._desk.system
        to_driver = (aside_mm < 0.0) == (layout.driver_side == "left")
        return text.format(
            n=show_length(abs(aside_mm), system, digits=0, parts=16),
            u=show_small(u_mm, system, digits=1),
            unit=system,
            side=scan_words.TO_DRIVER if to_driver else scan_words.TO_PASSENGER,
        )

    def _tool(self, kind: LineKind) -> QPushButton:
        button = pressed(scan_words.LINE_NAMES[kind], lambda: self._use(kind), icon="pick-point")
        button.setCheckable(True)
        return button

    def _use(self, kind: LineKind) -> None:
        tool = _TOOL + kind + _LINE
        self._desk.use_tool("" if self._desk.tool == tool else tool)

    def _tool_changed(self, tool: str) -> None:
        for kind, button in self.tools.items():
            button.setChecked(tool == _TOOL + kind + _LINE)

    def _laid(self, laid: LaidPoints | None) -> None:
        kind = next((kind for kind in LINE_KINDS if laid is not None and laid.kind == kind + _LINE), None)
        if laid is None or kind is None or self._desk.step != "axes":
            return
        line, scan_id = CentreLine(kind=kind, points_mm=laid.points_mm), laid.scan_id

        def kept(layout: Layout) -> Layout:
            return edits.set_centre_line(layout, scan_id, line)

        if not tried(self._desk, scan_words.LINE_ENTRY[kind], kept):
            self._desk.use_tool("")

    def _forget(self, kind: LineKind) -> None:
        scan = scan_with_axes(self._desk)
        if scan is not None:
            tried(
                self._desk,
                scan_words.LINE_FORGET_ENTRY[kind],
                lambda layout: edits.forget_centre_line(layout, scan.id, kind),
            )
