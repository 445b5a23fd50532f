"""The ledger: every finding in a list, worst first, with what is wanted and what would cure it."""

from PySide6.QtCore import QEvent, QItemSelectionModel, QModelIndex, QRectF, QSize, QSizeF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QListView, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from floorpan.report.tally_words import WORST_FIRST
from floorpan_app.theme.fonts import BODY, SECOND, scaled, text_font
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.widgets.ledger_paint import LedgerDelegate, part_at, row_height
from floorpan_app.widgets.ledger_rows import LedgerModel, LedgerRow, keep_places
from floorpan_app.widgets.lettering import BOLDER, RIGHT, line_height, write

TITLE = "Gaps, worst first"


class _LedgerView(QListView):
    """The list itself. Rows stay put while a mouse button is down on it."""

    pressChanged = Signal(bool)
    partChosen = Signal(str, str)
    rowPointed = Signal(str)

    def __init__(self, model: LedgerModel, parent: QWidget) -> None:
        super().__init__(parent)
        self._rows = model
        self._delegate = LedgerDelegate(self)
        self.setModel(model)
        self.setItemDelegate(self._delegate)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setMouseTracking(True)
        self.setUniformItemSizes(True)
        self.viewport().setAutoFillBackground(False)
        self.setAccessibleName(TITLE)

    def light(self, row_id: str) -> None:
        self._delegate.lit_id = row_id
        self.viewport().update()

    def row_at(self, index: QModelIndex) -> LedgerRow | None:
        return self._rows.rows()[index.row()] if index.isValid() else None

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.pressChanged.emit(True)
        super().mousePressEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        super().mouseReleaseEvent(event)
        index = self.indexAt(event.position().toPoint())
        row = self.row_at(index)
        if row is not None and event.button() == Qt.MouseButton.LeftButton and index == self.currentIndex():
            part = part_at(QRectF(self.visualRect(index)), row, event.position())
            self.partChosen.emit(row.id, part)
        self.pressChanged.emit(False)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        super().mouseMoveEvent(event)
        row = self.row_at(self.indexAt(event.position().toPoint()))
        self.rowPointed.emit(row.id if row else "")

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self.rowPointed.emit("")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        row = self.row_at(self.currentIndex())
        if row is not None and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            shifted = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
            self.partChosen.emit(row.id, ("doing" if row.doing else "give or take") if shifted else "row")
        else:
            super().keyPressEvent(event)


class _LedgerHead(QWidget):
    """Title and counts."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.counts = ""
        self.setToolTip(WORST_FIRST)
        self.setAccessibleDescription(WORST_FIRST)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_counts(self, counts: str) -> None:
        self.counts = counts
        self.setAccessibleName(f"{TITLE}: {counts}" if counts else TITLE)
        self.update()

    def sizeHint(self) -> QSize:
        return QSizeF(scaled(200), line_height(text_font(BODY, BOLDER)) + scaled(14)).toSize()

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter = theme_in_use(), QPainter(self)
        rect = QRectF(self.rect()).adjusted(scaled(16), 0, -scaled(14), 0)
        used = write(painter, rect, TITLE, text_font(BODY, BOLDER), theme.ink)
        rest = rect.adjusted(used + scaled(12), 0, 0, 0)
        write(painter, rest, self.counts, text_font(SECOND), theme.ink2, RIGHT)


class Ledger(QWidget):
    """Title with counts, the rows, and a way to those that are clear."""

    rowChosen = Signal(str)
    rowPointed = Signal(str)
    """The id under the mouse, or nothing once it left: its ticket lights up."""
    giveOrTakeAsked = Signal(str)
    """Somebody wants to see what a give or take is made of."""
    doingAsked = Signal(str)
    """The underlined offer of a row was taken."""
    showAllAsked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._model = LedgerModel(self)
        self._head = _LedgerHead(self)
        self._view = _LedgerView(self._model, self)
        self._show_all = QPushButton("Show all", self)
        self._show_all.setProperty("role", "link")
        self._show_all.hide()
        self._wanted: tuple[LedgerRow, ...] = ()
        self._held_by: set[str] = set()
        self._folded = False
        self._has_foot = False
        foot = QHBoxLayout()
        foot.setContentsMargins(round(scaled(16)), 0, round(scaled(14)), 0)
        foot.addWidget(self._show_all)
        foot.addStretch()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self._head)
        layout.addWidget(self._view, 1)
        layout.addLayout(foot)
        self._view.pressChanged.connect(self._hold_for_press)
        self._view.partChosen.connect(self._say_chosen)
        self._view.rowPointed.connect(self.rowPointed)
        self._show_all.clicked.connect(self.showAllAsked)

    def rows(self) -> tuple[LedgerRow, ...]:
        """The rows as they are shown."""
        return self._model.rows()

    def set_rows(
        self,
        rows: tuple[LedgerRow, ...],
        counts: str = "",
        *,
        left_out: str = "",
        all_shown: bool = False,
    ) -> None:
        """Show `rows`, worst first as given, and in `counts` how many were found.

        left_out  : what is not among them, for the way to it; empty where that is nothing
        all_shown : what is usually left out is shown too, and the way back is offered
        While the ledger is held, rows keep their places and only what they say changes.
        """
        self._wanted = rows
        self._head.show_counts(counts)
        self._show_all.setText("Show fewer" if all_shown else f"{left_out} Show all")
        self._has_foot = all_shown or bool(left_out)
        self._show_all.setVisible(self._has_foot and not self._folded)
        self._put()

    def set_held(self, held: bool) -> None:
        """Keep every row in its place, for as long as something is being dragged."""
        self._hold("drag", held)

    def chosen(self) -> str:
        # Not the current row: the toolkit makes the first one current as soon as the list has the keyboard.
        selected = self._view.selectionModel().selectedIndexes()
        row = self._view.row_at(selected[0]) if selected else None
        return row.id if row else ""

    def set_chosen(self, row_id: str) -> None:
        """Select a row without saying so; an id that is not shown clears the selection."""
        index = self._model.index(self._model.place_of(row_id)) if self._model.place_of(row_id) >= 0 else None
        if index is None:
            self._view.setCurrentIndex(QModelIndex())
            self._view.clearSelection()
            return
        self._view.selectionModel().setCurrentIndex(index, QItemSelectionModel.SelectionFlag.ClearAndSelect)
        self._view.scrollTo(index)

    def set_lit(self, row_id: str) -> None:
        """Light up the row whose ticket is pointed at; nothing puts it out."""
        self._view.light(row_id)

    def set_folded(self, folded: bool) -> None:
        """Fold down to title and counts, when room runs out."""
        self._folded = folded
        self._view.setVisible(not folded)
        self._show_all.setVisible(self._has_foot and not folded)

    def natural_height(self, rows: int) -> int:
        """The height at which `rows` rows are seen without scrolling."""
        return self._head.sizeHint().height() + round(row_height()) * rows

    def view(self) -> QListView:
        """The list, for focus and for tests."""
        return self._view

    def _put(self) -> None:
        rows = keep_places(self._model.rows(), self._wanted) if self._held_by else self._wanted
        chosen, scrolled = self.chosen(), self._view.verticalScrollBar().value()
        self._model.set_rows(rows)
        if self.chosen() != chosen:
            self.set_chosen(chosen)
        self._view.verticalScrollBar().setValue(scrolled)

    def _hold(self, who: str, held: bool) -> None:
        (self._held_by.add if held else self._held_by.discard)(who)
        if not self._held_by:
            self._put()

    def _hold_for_press(self, down: bool) -> None:
        self._hold("press", down)

    def _say_chosen(self, row_id: str, part: str) -> None:
        if part == "doing":
            self.doingAsked.emit(row_id)
        elif part == "give or take":
            self.giveOrTakeAsked.emit(row_id)
        else:
            self.rowChosen.emit(row_id)
