"""The bench with a project on it: step strip, the picture, the column at the right, the drawer below."""

from collections.abc import Mapping

from PySide6.QtCore import QRect, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QWidget

from floorpan.edits import step_mark
from floorpan.layout import STEPS
from floorpan.project.strict_json import Json
from floorpan_app import messages
from floorpan_app.desk import Desk
from floorpan_app.theme.fonts import scaled
from floorpan_app.theme.record import Theme
from floorpan_app.widgets.step_mark import Mark
from floorpan_app.widgets.step_strip import Step, StepStrip
from floorpan_app.window.areas import Areas, order_tabs
from floorpan_app.window.column import Column
from floorpan_app.window.drawer import Drawer
from floorpan_app.window.parts import Parts
from floorpan_app.window.view_area import ViewArea

COLUMN, COLUMN_WIDE, COLUMN_WIDEST = 344.0, 408.0, 420.0
_WIDE, _WIDEST = 1700.0, 3000.0
# Under this width the column slides over the picture, under this height the drawer takes the picture's place.
NARROW, LOW = 1100.0, 620.0
_DRAWER, _DRAWER_SHARE, _DRAWER_LEAST = 400.0, 0.59, 200.0
_MARKS: dict[str, Mark] = {
    "accepted": "accepted",
    "accepted as it is": "as it is",
    "look again": "look again",
    "open": "open",
}


class Benchtop(QWidget):
    """Puts the parts in their places; they talk through the desk.

    doubt_asked(id) : what a finding's give or take is made of
    """

    doubt_asked = Signal(str)

    def __init__(self, desk: Desk, parts: Parts, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.desk = desk
        self._parts = parts
        self.strip = StepStrip(parent=self)
        self.view = ViewArea(desk, parts, self)
        self.column = Column(desk, parts.cards, self)
        self.drawer = Drawer(desk, self)
        self.drawer.hide()
        self._drawer_wanted: bool | None = None
        self._called = False
        self.areas = Areas(
            {
                "strip": self.strip,
                "view": self.view.picture,
                "spot": self.column.spot,
                "card": self.column.cards,
                "ledger": self.column.ledger.view(),
                "drawer": self.drawer,
            }
        )
        self._connect()
        self.refresh_strip()
        self._order_tabs()

    def _connect(self) -> None:
        desk = self.desk
        self.strip.stepChosen.connect(desk.go_to)
        self.view.spot_asked.connect(self.call_column)
        self.view.words_changed.connect(self._order_tabs)
        self.column.card_changed.connect(self._order_tabs)
        self.column.doubt_asked.connect(self.doubt_asked)
        self.column.ledger.rowPointed.connect(desk.finding_pointed)
        self.drawer.put_away.connect(self.toggle_drawer)
        desk.finding_pointed.connect(self.column.ledger.set_lit)
        desk.finding_chosen.connect(self._turn)
        desk.step_changed.connect(self._step)
        desk.document.layout_changed.connect(self._layout_changed)
        desk.judging.findings_changed.connect(self._findings)

    def refresh_strip(self) -> None:
        """Marks and title of the step strip."""
        layout = self.desk.layout
        self.strip.set_title(layout.title)
        self.strip.set_steps(
            tuple(
                Step(
                    id=step,
                    word=messages.STEP_WORDS[step],
                    mark=_MARKS[step_mark(layout, step)],
                    in_hand=step == self.desk.step,
                )
                for step in STEPS
            )
        )

    def refresh(self) -> None:
        """Show everything again, as after another project was opened."""
        self.refresh_strip()
        self.view.refresh()
        self.column.refresh()
        self.drawer.refresh()
        self._arrange()

    def set_theme(self, theme: Theme) -> None:
        """Take another theme."""
        self._parts.picture.set_theme(theme)

    def toggle_drawer(self) -> None:
        """Open the drawer, or put it away."""
        self._drawer_wanted = self.drawer.isHidden()
        self._arrange()
        self.desk.hinted.emit(messages.CELL_HINT if self._drawer_wanted else "")

    def swap_drawer(self) -> None:
        """Station or matrix; a drawer that is away opens."""
        if self.drawer.isHidden():
            self.toggle_drawer()
        else:
            self.drawer.swap()

    def is_narrow(self) -> bool:
        """Whether the column slides over the picture."""
        return self.width() < scaled(NARROW)

    def call_column(self) -> None:
        """Slide the column over the picture, or away again."""
        self._called = not self._called
        self._arrange()
        if self._called and self.is_narrow():
            self.column.spot.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def put_column_away(self) -> bool:
        """Slide it away; answers whether it lay over the picture."""
        lay_over = self.is_narrow() and self._called
        if lay_over:
            self.call_column()
            self.view.picture.setFocus()
        return lay_over

    def walk(self, step: int) -> str:
        """To the next area or the one before; the column comes when it is one of them."""
        if self.is_narrow() and not self._called:
            self.call_column()
        return self.areas.walk(step)

    def close_view(self) -> None:
        """Let the picture and the timers go before the window does."""
        self.column.stop()
        self.drawer.stop()
        self._parts.filling.stop()
        self._parts.picture.close()

    def picture_view(self) -> dict[str, Json]:
        """How the car is looked at, as it is kept in the project."""
        return self._parts.picture.view()

    def look(self, view: Mapping[str, Json]) -> None:
        """Look at it so again."""
        self._parts.picture.look(view)

    def _order_tabs(self) -> None:
        view, column = self.view, self.column
        on_the_picture = (view.picture, view.seen_from, view.showing, view.roll, view.line)
        order_tabs((self.strip, *on_the_picture, column.spot, column.cards, column.ledger, self.drawer))

    def _turn(self, id: str) -> None:
        for finding in self.desk.judging.findings:
            if finding.id == id:
                self._parts.filling.turn_to(finding)

    def _step(self, _step: str) -> None:
        self.refresh_strip()
        self._arrange()

    def _layout_changed(self, _before: object, _after: object) -> None:
        if not self.desk.document.previewing:
            self.refresh_strip()

    def _findings(self, _findings: object) -> None:
        self._show_line()

    def _show_line(self) -> None:
        self.view.show_line(self.column.spot.spot(), self.is_narrow() and not self._called)

    def resizeEvent(self, event: QResizeEvent) -> None:
        if not self.is_narrow():
            self._called = False
        self._arrange()

    def _column_width(self) -> int:
        width = self.width()
        if width >= scaled(_WIDEST):
            return round(scaled(COLUMN_WIDEST))
        return round(scaled(COLUMN_WIDE if width >= scaled(_WIDE) else COLUMN))

    def _arrange(self) -> None:
        width, height = self.width(), self.height()
        strip = self.strip.sizeHint().height()
        self.strip.setGeometry(0, 0, width, strip)
        column = min(self._column_width(), width)
        narrow = self.is_narrow()
        room = QRect(0, strip, width if narrow else width - column, max(height - strip, 0))
        self.column.setVisible(not narrow or self._called)
        self.column.setGeometry(width - column, strip, column, room.height())
        drawer = 0
        # On a large screen it is open until somebody puts it away.
        wide = width >= scaled(_WIDEST)
        self.drawer.setVisible(wide if self._drawer_wanted is None else self._drawer_wanted)
        if not self.drawer.isHidden():
            swapped = self.window().height() < scaled(LOW)
            drawer = room.height() if swapped else self._drawer_height(room.height())
        self.view.setGeometry(room.x(), room.y(), room.width(), room.height() - drawer)
        self.drawer.setGeometry(room.x(), room.bottom() + 1 - drawer, room.width(), drawer)
        self._show_line()
        if narrow and self._called:
            self.column.raise_()

    def _drawer_height(self, room: int) -> int:
        share = round(_DRAWER_SHARE * room)
        return min(share, max(round(scaled(_DRAWER)), round(scaled(_DRAWER_LEAST))))
