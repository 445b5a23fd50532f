"""The drawer over the lower part: the state matrix, and where the station view will be."""

from collections.abc import Sequence

from PySide6.QtCore import QRectF, Qt, QTimer, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from floorpan.checks import Finding
from floorpan.items.states import State
from floorpan.report.only_with import choices, in_effect, not_judged
from floorpan_app import messages
from floorpan_app.desk import Desk
from floorpan_app.settings import OutlineLine
from floorpan_app.standing import standing
from floorpan_app.theme.fonts import BODY, PART, scaled, text_font
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.widgets.lettering import BOLDER, CENTRE, write
from floorpan_app.widgets.matrix import StateMatrix
from floorpan_app.window.column import LIST_PACE_MS
from floorpan_app.window.outline import outline_of
from floorpan_app.window.outline_painting import paint_outline
from floorpan_app.window.question import plain
from floorpan_app.window.shown import matrix_of

# From this width on the side outline stands beside the matrix; under it one of the two is shown.
BOTH = 1360.0
_STATION = 300.0


class StationNote(QWidget):
    """A plain side outline and one sentence, until the station view is there."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._lines: tuple[OutlineLine, ...] = ()
        head = QLabel(messages.STATION_TITLE, self)
        head.setFont(text_font(PART, BOLDER))
        column = QVBoxLayout(self)
        column.setContentsMargins(*(round(scaled(side)) for side in (14, 8, 14, 8)))
        column.addWidget(head)
        column.addStretch()
        column.addWidget(plain(messages.STATION_LATER, self, role="second"))
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(f"{messages.STATION_TITLE}: {messages.STATION_LATER}")

    def show_lines(self, lines: tuple[OutlineLine, ...]) -> None:
        self._lines = lines
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        room = QRectF(self.rect()).adjusted(scaled(14), scaled(40), -scaled(14), -scaled(56))
        if self._lines:
            paint_outline(painter, room, self._lines)
        else:
            write(painter, room, messages.NO_STATES, text_font(BODY), theme_in_use().ink2, CENTRE)


def _not_judged(findings: Sequence[Finding], only: State) -> str:
    missing = len(not_judged(findings, only)) if only else 0
    return (
        messages.ONE_NOT_JUDGED if missing == 1 else messages.NOT_JUDGED.format(n=missing) if missing else ""
    )


class Drawer(QWidget):
    """Keeps the matrix in step with the findings; a cell opens the car in exactly that state.

    put_away() : the drawer is to be shut
    """

    put_away = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._now = False
        self._station_first = False
        self._behind: dict[tuple[str, str], str] = {}
        self.matrix = StateMatrix(parent=self)
        self.station = StationNote(self)
        self.away = QPushButton(messages.PUT_AWAY, self)
        self.matrix.add_beside_title(self.away)
        self._empty = plain(messages.NO_STATES, self, role="second")
        self._empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._states = QWidget(self)
        states = QVBoxLayout(self._states)
        states.setContentsMargins(0, 0, 0, 0)
        states.setSpacing(0)
        states.addWidget(self.matrix, 1)
        states.addWidget(self._empty, 4)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 1, 0, 0)
        row.setSpacing(0)
        row.addWidget(self.station)
        row.addWidget(self._states, 1)
        self.station.setMaximumWidth(round(scaled(_STATION)))
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(LIST_PACE_MS)
        self._later.timeout.connect(self.refresh)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setFocusProxy(self.matrix.view())
        self._connect()

    def _connect(self) -> None:
        desk = self._desk
        self.away.clicked.connect(self.put_away)
        self.matrix.cellChosen.connect(self._chosen)
        self.matrix.nowChosen.connect(self._use_now)
        desk.judging.findings_changed.connect(self._soon)
        desk.state_changed.connect(self._soon)
        desk.system_changed.connect(self._soon)
        desk.finding_chosen.connect(self._mark)
        desk.listing_changed.connect(self.refresh)
        self.matrix.only_with.onlyChanged.connect(
            lambda only: desk.list_only(desk.listed_verdict, desk.listed_pair, only)
        )

    def is_now(self) -> bool:
        """Whether the matrix is as the car stands now, rather than the worst over everything not named."""
        return self._now

    def swap(self) -> None:
        """Station or matrix, where there is room for one only."""
        self._station_first = not self._station_first
        self._arrange()

    def refresh(self) -> None:
        """Show the findings again; nothing is worked out while the drawer is shut."""
        if not self.isVisible():
            return
        desk = self._desk
        stands = standing(desk.layout, desk.state) if self._now else None
        findings, only = desk.judging.findings, in_effect(desk.judging.findings, desk.only_with)
        table, behind = matrix_of(findings, desk.layout, desk.system, stands, only)
        self.matrix.set_only(choices(findings, desk.layout), only, _not_judged(findings, only))
        self._behind = {place: finding.id for place, finding in behind.items()}
        self.matrix.set_table(table)
        self._empty.setVisible(not table.rows)
        self._mark(desk.finding)
        if not desk.document.previewing and self.station.isVisible():
            self.station.show_lines(
                outline_of(desk.layout, desk.judging.bench, standing(desk.layout, desk.state))
            )

    def stop(self) -> None:
        """Let nothing run on."""
        self._later.stop()

    def _soon(self, _changed: object) -> None:
        if self.isVisible() and not self._later.isActive():
            self._later.start()

    def _chosen(self, row: str, column: str) -> None:
        finding = self._behind.get((row, column))
        if finding is not None:
            self._desk.choose_finding(finding)

    def _use_now(self, now: bool) -> None:
        self._now = now
        self.matrix.set_now(now)
        self.refresh()

    def _mark(self, finding: str) -> None:
        place = next((place for place, id in self._behind.items() if id == finding), ("", ""))
        if self.matrix.chosen() not in {place for place, id in self._behind.items() if id == finding}:
            self.matrix.set_chosen(*place)

    def _arrange(self) -> None:
        both = self.width() >= scaled(BOTH)
        self.station.setVisible(both or self._station_first)
        self._states.setVisible(both or not self._station_first)
        self.station.setMaximumWidth(round(scaled(_STATION)) if both else self.maximumWidth())

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._arrange()

    def showEvent(self, event: QShowEvent) -> None:
        self.refresh()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(theme_in_use().paper))
        painter.fillRect(QRectF(0, 0, self.width(), 1), QColor(theme_in_use().edge))
        if self.station.isVisible() and self._states.isVisible():
            x = self.station.geometry().right()
            painter.fillRect(QRectF(x, 8, 1, self.height() - 16), QColor(theme_in_use().line))
