"""The picture of the car with the words and tools that stand on it."""

from PySide6.QtCore import QEvent, QObject, QSize, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from floorpan.layout import Step
from floorpan_app import messages
from floorpan_app.desk import Desk
from floorpan_app.theme.fonts import scaled
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.widgets.tight_spot import Spot, TightSpot
from floorpan_app.widgets.tool_roll import ToolRoll
from floorpan_app.widgets.words import BAR_HEIGHT, GROUND_OPACITY, SeenFrom, Showing, Word
from floorpan_app.window.parts import Parts

_MARGIN = 14.0


class _BarGround(QWidget):
    """The rest of the bar that the words stand on."""

    def paintEvent(self, event: QPaintEvent) -> None:
        ground = QColor(theme_in_use().bench)
        ground.setAlphaF(GROUND_OPACITY)
        QPainter(self).fillRect(self.rect(), ground)


class ViewArea(QWidget):
    """Viewport to the edge, word bars on top, tool roll at the lower left.

    spot_asked()   : the tight spot's line on top was chosen
    words_changed(): other words or tools stand on the picture
    """

    spot_asked = Signal()
    words_changed = Signal()

    def __init__(self, desk: Desk, parts: Parts, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._parts = parts
        self.picture = parts.picture.widget()
        self.picture.setParent(self)
        self.picture.setAccessibleName(messages.AREAS["view"])
        self.seen_from = SeenFrom((), self)
        self.showing = Showing((), self)
        self.roll = ToolRoll((), self)
        self._ground = _BarGround(self)
        self.line = TightSpot(parent=self)
        self.line.set_folded(True)
        self.line.hide()
        self._sides_set: bool | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self._connect()
        self.refresh()

    def _connect(self) -> None:
        for piece in (self.seen_from, self.showing, self.roll):
            piece.installEventFilter(self)
        desk, filling = self._desk, self._parts.filling
        self.seen_from.wordChosen.connect(filling.see_from)
        self.showing.showingChanged.connect(filling.show)
        self.roll.verbChosen.connect(self._verb)
        self.line.spotChosen.connect(self._spot)
        desk.step_changed.connect(self._step)
        desk.tool_changed.connect(self.roll.set_in_hand)
        desk.document.layout_changed.connect(self._layout_changed)
        self._parts.picture.on_camera(self._camera)
        self._parts.picture.on_ticket(desk.choose_finding, desk.finding_pointed.emit)

    def refresh(self) -> None:
        """Words and tools of the step in hand, and of what is there."""
        self._name_sides()
        self.showing.set_words(self._parts.filling.showing())
        self.roll.set_verbs(self._parts.verbs(self._desk.step))
        self.roll.set_in_hand(self._desk.tool)
        self.roll.setVisible(bool(self.roll.verbs()))
        self._arrange()
        self.words_changed.emit()

    def show_line(self, spot: Spot | None, shown: bool) -> None:
        """The tight spot as one line on top, where the column is away."""
        self.line.set_spot(spot)
        if self.line.isHidden() == shown:
            self.line.setVisible(shown)
            self._arrange()

    def minimumSizeHint(self) -> QSize:
        return QSize(round(scaled(320)), round(scaled(160)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._arrange()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.LayoutRequest:
            # New words count only once the toolkit has shown them.
            self._arrange()
        return False

    def _name_sides(self) -> None:
        """Driver and passenger, front and rear are said once a scan stands in car axes, sides A to D before."""
        is_set = any(scan.pose is not None for scan in self._desk.layout.scans)
        if is_set == self._sides_set:
            return
        self._sides_set = is_set
        names = messages.SEEN_FROM if is_set else messages.SEEN_FROM_SIDES
        held = self._parts.picture.seen_from()
        self.seen_from.set_words(tuple(Word(id=id, word=word, on=id == held) for id, word in names.items()))

    def _camera(self) -> None:
        self.seen_from.set_chosen(self._parts.picture.seen_from())

    def _verb(self, verb: str) -> None:
        self._desk.use_tool("" if verb == self._desk.tool else verb)

    def _spot(self, _id: str) -> None:
        self.spot_asked.emit()

    def _step(self, _step: Step) -> None:
        self.refresh()

    def _layout_changed(self, _before: object, _after: object) -> None:
        self._name_sides()
        words = self._parts.filling.showing()
        if words != self.showing.words():
            self.showing.set_words(words)
            self._arrange()
            self.words_changed.emit()

    def _arrange(self) -> None:
        width, height = self.width(), self.height()
        self.picture.setGeometry(self.rect())
        top = 0
        if not self.line.isHidden():
            self.line.setGeometry(0, 0, width, self.line.heightForWidth(width))
            top = self.line.height()
        bar = round(scaled(BAR_HEIGHT))
        left = min(self.seen_from.sizeHint().width(), width)
        right = min(self.showing.sizeHint().width(), width) if self.showing.words() else 0
        # Where both do not fit beside each other they stand in two rows.
        rows = 1 if left + right <= width else 2
        below = top + rows * bar
        self.seen_from.setGeometry(0, top, left, bar)
        self.showing.setGeometry(width - right if rows == 1 else 0, below - bar, right, bar)
        self.showing.setVisible(bool(right))
        used = left + right if rows == 1 else left
        self._ground.setGeometry(left, top, width - used, bar)
        margin = round(scaled(_MARGIN))
        roll = self.roll.sizeHint() if self.roll.verbs() else QSize(0, 0)
        self.roll.setGeometry(
            margin, height - roll.height() - margin, min(roll.width(), width), roll.height()
        )
        for piece in (self._ground, self.seen_from, self.showing, self.roll, self.line):
            piece.raise_()
        self._parts.picture.set_insets(below, roll.height() + 2 * margin if self.roll.verbs() else 0.0)
