"""The start screen: three ways to begin, the projects of late, advice before scanning, a place to drop a file."""

from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from pathlib import Path

from PySide6.QtCore import QRectF, QSize, QSizeF, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QDragEnterEvent,
    QDragLeaveEvent,
    QDropEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
    QShowEvent,
)
from PySide6.QtWidgets import (
    QAbstractButton,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from floorpan_app import messages
from floorpan_app.settings import RecentProject
from floorpan_app.theme.fonts import BODY, PART, SECOND, scaled, text_font
from floorpan_app.theme.icons import IconRole, paint_icon
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.widgets.lettering import BOLD, BOLDER, CENTRE, line_height, write
from floorpan_app.widgets.seam import paint_focus
from floorpan_app.window.project_card import HEIGHT, WIDTH, ProjectCard
from floorpan_app.window.question import plain

WAYS = (
    ("scan", messages.START_SCAN, "pick-point"),
    ("open", messages.START_OPEN, "open"),
    ("sample", messages.START_SAMPLE, "seat"),
)
_TITLE, _HEAD = 38, 20
_LEFT_WIDTH = 330.0
_GAP = 18.0
_MARGIN = 76.0
_NARROW = 1100.0


class WayButton(QAbstractButton):
    """One way to begin: an icon, what it does, and what it takes."""

    def __init__(self, words: tuple[str, str], icon: str, *, first: bool, parent: QWidget) -> None:
        super().__init__(parent)
        self._second = words[1]
        self._icon = icon
        self._first = first
        self.setText(words[0])
        self.setAccessibleName(words[0])
        self.setAccessibleDescription(words[1])
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)

    def sizeHint(self) -> QSize:
        lines = line_height(text_font(PART, BOLDER)) + line_height(text_font(SECOND))
        return QSizeF(scaled(_LEFT_WIDTH), max(scaled(62), lines + scaled(16))).toSize()

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter, rect = theme_in_use(), QPainter(self), QRectF(self.rect())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        lit = self.isDown() or self.underMouse()
        ground = theme.accent if self._first else theme.wash if lit else theme.raised
        painter.setPen(QPen(QColor(theme.ink if self._first and lit else theme.edge), 1))
        painter.setBrush(QColor(ground))
        painter.drawRoundedRect(rect.adjusted(0.5, 0.5, -0.5, -0.5), 4, 4)
        role: IconRole = "on_accent" if self._first else "ink"
        ink = str(getattr(theme, role))
        side = scaled(24)
        paint_icon(painter, QRectF(scaled(16), (rect.height() - side) / 2, side, side), self._icon, ink)
        big, small = text_font(PART, BOLDER), text_font(SECOND)
        left = scaled(56)
        top = (rect.height() - line_height(big) - line_height(small)) / 2
        room = rect.width() - left - scaled(8)
        write(painter, QRectF(left, top, room, line_height(big)), self.text(), big, ink)
        low = QRectF(left, top + line_height(big), room, line_height(small))
        write(painter, low, self._second, small, ink if self._first else theme.ink2)
        if self.hasFocus():
            # The filled one would swallow a ring of its own colour.
            inset = rect.adjusted(3, 3, -3, -3) if self._first else rect
            if self._first:
                painter.setPen(QPen(QColor(theme.on_accent), 2))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawRoundedRect(inset, 4, 4)
            else:
                paint_focus(painter, inset)


class DropPlace(QWidget):
    """A dashed sheet that says what may be dropped; the whole screen takes it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.lit = False

    def sizeHint(self) -> QSize:
        return QSizeF(scaled(WIDTH), scaled(HEIGHT)).toSize()

    def light(self, lit: bool) -> None:
        self.lit = lit
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter, rect = theme_in_use(), QPainter(self), QRectF(self.rect())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        pen = QPen(QColor(theme.accent if self.lit else theme.edge), 1.6, Qt.PenStyle.CustomDashLine)
        pen.setDashPattern([5, 3])
        painter.setPen(pen)
        painter.setBrush(QColor(theme.wash) if self.lit else Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(rect.adjusted(1, 1, -1, -1), 4, 4)
        write(painter, rect.adjusted(8, 0, -8, 0), messages.DROP_HERE, text_font(BODY), theme.ink2, CENTRE)


class _Hooks(QWidget):
    """Cards in rows, as many beside each other as fit; the drop place hangs last."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.cards: list[ProjectCard] = []
        self.drop = DropPlace(self)

    def hang(self, cards: list[ProjectCard]) -> None:
        for card in self.cards:
            card.hide()
            card.deleteLater()
        self.cards = cards
        for card in cards:
            card.show()
        self.arrange()

    def arrange(self) -> None:
        pieces: list[QWidget] = [*self.cards, self.drop]
        width, height, gap = round(scaled(WIDTH)), round(scaled(HEIGHT)), round(scaled(_GAP))
        beside = max(1, (self.width() + gap) // (width + gap))
        for number, piece in enumerate(pieces):
            row, column = divmod(number, beside)
            piece.setGeometry(column * (width + gap), row * (height + gap), width, height)
        rows = -(-len(pieces) // beside)
        self.setMinimumHeight(rows * (height + gap))

    def resizeEvent(self, event: QResizeEvent) -> None:
        self.arrange()


class StartScreen(QWidget):
    """What is seen while no project is on the bench.

    way_chosen(id)       : `scan`, `open` or `sample`
    project_chosen(Path) : a hung project
    dropped(Path)        : a file or folder was dropped
    checklist_asked()    : somebody wants the page to scan by
    """

    way_chosen = Signal(str)
    project_chosen = Signal(object)
    dropped = Signal(object)
    checklist_asked = Signal()

    def __init__(
        self, parent: QWidget | None = None, *, clock: Callable[[], datetime] = lambda: datetime.now(UTC)
    ) -> None:
        super().__init__(parent)
        self._clock = clock
        self.setAcceptDrops(True)
        self.ways: dict[str, WayButton] = {}
        self._outer = QHBoxLayout(self)
        self._outer.setSpacing(round(scaled(74)))
        left = QWidget(self)
        left.setFixedWidth(round(scaled(_LEFT_WIDTH)))
        self._fill_left(left)
        self._outer.addWidget(_scrolling(left, self, fixed=True))
        right = QWidget(self)
        self._hooks = _Hooks(right)
        self._nothing = plain(messages.NOTHING_RECENT, right, role="second")
        self._fill_right(right)
        self._outer.addWidget(right, 1)

    def _fill_left(self, left: QWidget) -> None:
        column = QVBoxLayout(left)
        column.setContentsMargins(2, 0, 2, 0)
        column.setSpacing(round(scaled(12)))
        column.addWidget(plain(messages.PROGRAM, left, px=_TITLE, bold=True))
        column.addWidget(plain(messages.TAGLINE, left, px=17, role="second"))
        column.addSpacing(round(scaled(28)))
        for number, (id, words, icon) in enumerate(WAYS):
            button = WayButton(words, icon, first=number == 0, parent=left)
            button.clicked.connect(lambda _=False, id=id: self.way_chosen.emit(id))
            self.ways[id] = button
            column.addWidget(button)
        column.addSpacing(round(scaled(18)))
        column.addWidget(plain(messages.BEFORE_TITLE, left, px=BODY, bold=True))
        advices = QVBoxLayout()
        advices.setSpacing(round(scaled(5)))
        column.addLayout(advices)
        for advice in messages.BEFORE:
            row = QHBoxLayout()
            row.setSpacing(round(scaled(8)))
            row.addWidget(QLabel("\u2022", left), 0, Qt.AlignmentFlag.AlignTop)
            row.addWidget(plain(advice, left), 1)
            advices.addLayout(row)
        self.checklist = QPushButton(messages.CHECKLIST_LINK, left)
        self.checklist.setProperty("role", "link")
        self.checklist.setCursor(Qt.CursorShape.PointingHandCursor)
        self.checklist.clicked.connect(self.checklist_asked)
        column.addWidget(self.checklist, 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch()

    def _fill_right(self, right: QWidget) -> None:
        column = QVBoxLayout(right)
        column.setContentsMargins(0, 0, 0, 0)
        head = QHBoxLayout()
        title = QLabel(messages.RECENT_TITLE, right)
        title.setFont(text_font(_HEAD, BOLD))
        order = QLabel(messages.RECENT_ORDER, right)
        order.setProperty("role", "second")
        head.addWidget(title)
        head.addStretch()
        head.addWidget(order)
        column.addLayout(head)
        column.addWidget(self._nothing)
        column.addSpacing(round(scaled(8)))
        column.addWidget(_scrolling(self._hooks, right), 1)

    def cards(self) -> tuple[ProjectCard, ...]:
        """The hung projects, newest first."""
        return tuple(self._hooks.cards)

    def show_recent(self, projects: Sequence[RecentProject]) -> None:
        """Hang up the projects opened lately."""
        cards = [ProjectCard(project, self._clock(), self._hooks) for project in projects]
        for card in cards:
            card.clicked.connect(lambda _=False, folder=card.project.folder: self.project_chosen.emit(folder))
        self._hooks.hang(cards)
        self._nothing.setVisible(not cards)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if _local(event) is not None:
            event.acceptProposedAction()
            self._hooks.drop.light(True)

    def dragLeaveEvent(self, event: QDragLeaveEvent) -> None:
        self._hooks.drop.light(False)

    def dropEvent(self, event: QDropEvent) -> None:
        self._hooks.drop.light(False)
        path = _local(event)
        if path is not None:
            event.acceptProposedAction()
            self.dropped.emit(path)

    def showEvent(self, event: QShowEvent) -> None:
        self.ways["scan"].setFocus(Qt.FocusReason.OtherFocusReason)

    def resizeEvent(self, event: QResizeEvent) -> None:
        narrow = self.width() < scaled(_NARROW)
        side, top = (28.0, 24.0) if narrow else (_MARGIN, 48.0)
        self._outer.setContentsMargins(*(round(scaled(margin)) for margin in (side, top, side, 16.0)))
        self._outer.setSpacing(round(scaled(36 if narrow else 74)))

    def paintEvent(self, event: QPaintEvent) -> None:
        QPainter(self).fillRect(self.rect(), QColor(theme_in_use().bench))


def _scrolling(inside: QWidget, parent: QWidget, *, fixed: bool = False) -> QScrollArea:
    """Up and down only, without a border."""
    area = QScrollArea(parent)
    area.setWidget(inside)
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.viewport().setAutoFillBackground(False)
    inside.setAutoFillBackground(False)
    if fixed:
        area.setFixedWidth(inside.width() + round(scaled(14)))
    return area


def _local(event: QDropEvent) -> Path | None:
    """The first dropped thing that lies on this computer."""
    for url in event.mimeData().urls():
        if url.isLocalFile():
            return Path(url.toLocalFile())
    return None
