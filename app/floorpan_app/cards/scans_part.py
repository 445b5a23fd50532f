"""The scans of a project: which is in hand, which is shown, one more, one less."""

from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QVBoxLayout, QWidget

from floorpan import edits
from floorpan.layout import Layout, ScanRef
from floorpan_app.cards import join_words as words
from floorpan_app.cards.blocks import PartTitle, pressed, px, side_by_side
from floorpan_app.cards.notice import Notice
from floorpan_app.cards.rows import Row, Rows
from floorpan_app.cards.scans import scan_in_hand
from floorpan_app.cards.tried import tried
from floorpan_app.desk import Desk


class ScansPart(QWidget):
    """A part of the scan's card.

    add_asked() : another scan is wanted
    """

    add_asked = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.title = PartTitle(words.SCANS)
        self.rows = Rows(words.SCANS)
        self.rows.row_chosen.connect(self._take)
        self.shown = QCheckBox(words.SHOWN)
        self.shown.clicked.connect(self._show)
        self.add = pressed(words.ADD_SCAN, self.add_asked.emit, icon="add", role="link")
        self.out = pressed(words.TAKE_OUT_SCAN, self._take_out, icon="take-out")
        self.notice = Notice()
        self.roles = {
            role: pressed(words.IT_SHOWS[role], partial(self._say, role)) for role in words.IT_SHOWS
        }
        self.notice.below.addLayout(side_by_side(*self.roles.values()))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        for piece in (self.title, self.rows, self.notice, self.shown):
            column.addWidget(piece)
        column.addLayout(side_by_side(self.add, self.out))

    def show_layout(self, layout: Layout) -> None:
        """Every scan of a layout."""
        scan = scan_in_hand(self._desk)
        several = len(layout.scans) > 1
        for piece in (self.title, self.rows, self.shown, self.out):
            piece.setVisible(several)
        self.setVisible(scan is not None)
        if scan is None:
            return
        rows = [Row(id=one.id, title=one.name, second=_told(one, layout)) for one in layout.scans if several]
        self.rows.show_rows(rows, scan.id)
        self.shown.setChecked(scan.shown)
        self.notice.say(words.SAY_WHAT if several and scan.role == "other" else "", "next")

    def _take(self, id: str) -> None:
        self._desk.use_tool("")
        self._desk.scans.take(id)

    def _say(self, role: str) -> None:
        scan = scan_in_hand(self._desk)
        if scan is not None:
            tried(self._desk, words.ROLE_ENTRY, lambda layout: edits.change_scan(layout, scan.id, role=role))

    def _show(self, shown: bool) -> None:
        scan = scan_in_hand(self._desk)
        if scan is not None:
            tried(
                self._desk,
                words.SHOWN_ENTRY,
                lambda layout: edits.change_scan(layout, scan.id, shown=shown),
            )

    def _take_out(self) -> None:
        scan = scan_in_hand(self._desk)
        if scan is not None:
            tried(self._desk, words.TAKE_OUT_ENTRY, lambda layout: edits.remove_scan(layout, scan.id))


def _told(scan: ScanRef, layout: Layout) -> str:
    """What a scan shows and how it stands."""
    if scan.joined is not None:
        stands = words.IS_JOINED.format(by=scan.joined.by)
    elif scan is layout.scans[0]:
        stands = words.FIRST_OF_ALL
    else:
        stands = words.OWN_AXES if scan.pose is not None else words.NOT_JOINED
    told = [words.ROLES[scan.role], stands, *(() if scan.shown else (words.HIDDEN,))]
    return ", ".join(told)
