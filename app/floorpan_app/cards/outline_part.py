"""What becomes of a drawn outline: what is inside stays or goes; and the outlines the crop has so far."""

from dataclasses import replace

from PySide6.QtWidgets import QVBoxLayout, QWidget

from floorpan import edits
from floorpan.layout import ScanRef
from floorpan.units import show_length
from floorpan_app.cards import scan_words
from floorpan_app.cards.blocks import pressed, px, side_by_side, told
from floorpan_app.cards.notice import Notice
from floorpan_app.cards.rows import Row, Rows
from floorpan_app.cards.scans import scan_in_hand
from floorpan_app.cards.tried import tried
from floorpan_app.desk import Desk

OUTLINE_TOOL = "outline"


class OutlinePart(QWidget):
    """A part of the scan's card."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._chosen = ""
        self.draw = pressed(scan_words.DRAW_OUTLINE, self._draw, icon="crop-outline")
        self.draw.setCheckable(True)
        self.notice = Notice()
        self.keep = pressed(scan_words.KEEP_INSIDE, lambda: self._take(keep=True))
        self.drop = pressed(scan_words.DROP_INSIDE, lambda: self._take(keep=False))
        self.notice.below.addLayout(side_by_side(self.keep, self.drop))
        self.rows = Rows(scan_words.OUTLINES)
        self.rows.row_chosen.connect(self._choose)
        self.forget = pressed(scan_words.FORGET_OUTLINE, self._forget)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        for piece in (
            told(scan_words.OUTLINE_NOTE, second=True),
            self.draw,
            self.notice,
            self.rows,
            self.forget,
        ):
            column.addWidget(piece)
        desk.tool_changed.connect(self._tool_changed)
        desk.outline_changed.connect(self._show_drawn)

    def show_scan(self, scan: ScanRef | None) -> None:
        """The outlines a scan's crop has."""
        self.setVisible(scan is not None)
        outlines = scan.outlines if scan is not None else ()
        rows = []
        for number, outline in enumerate(outlines):
            across = [max(side) - min(side) for side in zip(*outline.corners_mm, strict=True)]
            wide, high = (show_length(one, self._desk.system, digits=0) for one in across)
            rows.append(
                Row(
                    id=str(number),
                    title=scan_words.OUTLINE_KEEPS if outline.keep else scan_words.OUTLINE_DROPS,
                    tail=scan_words.OUTLINE_SIZE.format(
                        wide=wide, high=high, unit=self._desk.system, n=len(outline.corners_mm)
                    ),
                )
            )
        if self._chosen not in {row.id for row in rows}:
            self._chosen = ""
        self.rows.show_rows(rows, self._chosen)
        self.forget.setVisible(bool(self._chosen))
        self.draw.setChecked(self._desk.tool == OUTLINE_TOOL)
        self._show_drawn()

    def _tool_changed(self, tool: str) -> None:
        self.draw.setChecked(tool == OUTLINE_TOOL)

    def _show_drawn(self, _outline: object = None) -> None:
        drawn = self._desk.outline is not None and self._desk.step == "scan"
        self.notice.say(scan_words.OUTLINE_DRAWN if drawn else "", "next")

    def _draw(self) -> None:
        self._desk.use_tool("" if self._desk.tool == OUTLINE_TOOL else OUTLINE_TOOL)

    def _take(self, *, keep: bool) -> None:
        scan, outline = scan_in_hand(self._desk), self._desk.outline
        if scan is None or outline is None:
            return
        wanted = replace(outline, keep=keep)
        entry = scan_words.KEEP_ENTRY if keep else scan_words.DROP_ENTRY
        if not tried(self._desk, entry, lambda layout: edits.crop_along(layout, scan.id, wanted)):
            self._desk.use_tool("")

    def _choose(self, id: str) -> None:
        self._chosen = "" if id == self._chosen else id
        self.show_scan(scan_in_hand(self._desk))

    def _forget(self) -> None:
        scan, number = scan_in_hand(self._desk), self._chosen
        if scan is not None and number:
            self._chosen = ""
            tried(
                self._desk,
                scan_words.FORGET_OUTLINE_ENTRY,
                lambda layout: edits.forget_outline(layout, scan.id, int(number)),
            )
