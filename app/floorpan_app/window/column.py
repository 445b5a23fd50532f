"""The column at the right: what it says encloses what you set. Tight spot, the step's card, ledger."""

from collections.abc import Callable, Mapping

from PySide6.QtCore import QEvent, QRect, QTimer, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QStackedWidget, QVBoxLayout, QWidget

from floorpan.checks import Finding
from floorpan.items.states import NOTHING_MOVES
from floorpan.report.live_told import freshest
from floorpan.report.only_with import holding
from floorpan.report.tally import tally_line
from floorpan_app import messages
from floorpan_app.desk import Desk
from floorpan_app.theme.fonts import scaled
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.widgets.ledger import Ledger
from floorpan_app.widgets.tight_spot import TightSpot
from floorpan_app.window.question import plain
from floorpan_app.window.shown import Reach, ledger_of, spot_of

# While something is dragged the list follows at this pace; the tight spot follows at once.
LIST_PACE_MS = 120
_CARD_LEAST = 236.0
_ROWS_LEAST = 2
# Here the card says what there is to say, and gaps are only counted.
_CARD_FIRST = ("scan", "axes", "floor")
# Under this height there is no room for what is clear, and the first row is told by the tight spot alone.
_ROOMY = 760.0


class Column(QFrame):
    """Keeps tight spot and ledger in step with the findings, and the card with the step in hand.

    doubt_asked(id) : what a finding's give or take is made of
    card_changed()  : another card is in hand
    """

    doubt_asked = Signal(str)
    card_changed = Signal()

    def __init__(
        self, desk: Desk, cards: Mapping[str, Callable[[], QWidget]], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self._everything = False
        self._findings: tuple[Finding, ...] = desk.judging.findings
        self.spot = TightSpot(parent=self)
        self.cards = QStackedWidget(self)
        # A card is made when its step is first taken in hand: ten at once would keep a project's picture waiting.
        self._makers = dict(cards)
        self._made: dict[str, QWidget] = {}
        self._no_card = QWidget(self.cards)
        inside = QVBoxLayout(self._no_card)
        inside.setContentsMargins(*(round(scaled(16)) for _ in range(4)))
        inside.addWidget(plain(messages.NO_CARD, self._no_card, role="second"))
        inside.addStretch()
        self.cards.addWidget(self._no_card)
        self.ledger = Ledger(self)
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(LIST_PACE_MS)
        self._later.timeout.connect(self._fill_ledger)
        self._connect()
        self._step(desk.step)
        self.refresh()

    def _connect(self) -> None:
        desk = self._desk
        self.spot.spotChosen.connect(desk.choose_finding)
        self.ledger.rowChosen.connect(desk.choose_finding)
        self.ledger.giveOrTakeAsked.connect(self.doubt_asked)
        self.ledger.showAllAsked.connect(self._show_all)
        desk.step_changed.connect(self._step)
        desk.judging.findings_changed.connect(self._found)
        desk.judging.settled.connect(self._settled)
        desk.system_changed.connect(self._refresh_words)
        desk.finding_chosen.connect(self.ledger.set_chosen)
        desk.document.layout_changed.connect(self._layout_changed)
        desk.listing_changed.connect(self._fill_ledger)

    def refresh(self) -> None:
        """Show the findings again, after the unit, the room or the wish for all of them changed."""
        self._findings = self._desk.judging.findings
        self._fill_spot()
        self._fill_ledger()

    def card(self) -> QWidget:
        """The card of the step in hand."""
        return self.cards.currentWidget() or self._no_card

    def reach(self) -> Reach:
        """How far down the ledger goes in the room there is."""
        if self._everything:
            return "everything"
        return "worst of pairs" if self.height() >= scaled(_ROOMY) else "not clear"

    def stop(self) -> None:
        """Let nothing run on."""
        self._later.stop()

    def _found(self, findings: tuple[Finding, ...]) -> None:
        self._findings = findings
        self._fill_spot()
        self.ledger.set_held(self._desk.document.previewing)
        if not self._desk.document.previewing:
            self._fill_ledger()
        elif not self._later.isActive():
            self._later.start()

    def _settled(self, _findings: object) -> None:
        self.spot.announce()

    def _refresh_words(self, _system: str) -> None:
        self.refresh()

    def _layout_changed(self, _before: object, _after: object) -> None:
        # A drag that ended may leave the findings as they were; the rows may move again all the same.
        self.ledger.set_held(self._desk.document.previewing)

    def _fill_spot(self) -> None:
        told = freshest(self._findings)
        self.spot.set_spot(spot_of(told, self._desk.layout, self._desk.system))
        if self.spot.sizeHint().height() != self.spot.height():
            self._arrange()

    def _fill_ledger(self) -> None:
        listed = self._desk.listed(self._findings)
        desk = self._desk
        # Whoever asks for some of them wants to see those, clear ones too.
        asked = desk.step == "check" and (desk.listed_verdict or desk.listed_pair)
        reach: Reach = "everything" if asked else self.reach()
        rows, clear = ledger_of(listed, self._desk.layout, self._desk.system, reach)
        spot = self.spot.spot()
        if reach == "not clear" and rows and spot is not None and rows[0].id == spot.id:
            rows = rows[1:]
        # Counted is what the Check card counts: all of them, or those the matrix is held to.
        only = desk.only_with if desk.step == "check" else NOTHING_MOVES
        counts = tally_line(holding(self._findings, only))
        self.ledger.set_rows(rows, counts, left_out=clear, all_shown=self._everything)

    def _show_all(self) -> None:
        self._everything = not self._everything
        self._fill_ledger()

    def _step(self, step: str) -> None:
        if step in self._makers and step not in self._made:
            self._made[step] = self._makers[step]()
            self.cards.addWidget(self._made[step])
        self.cards.setCurrentWidget(self._made.get(step, self._no_card))
        self._fill_ledger()
        self._arrange()
        self.card_changed.emit()

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.LayoutRequest:
            # A card grew or shrank: something was unfolded, or there is more to say.
            self._arrange()
        return super().event(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._arrange()
        if event.oldSize().height() != event.size().height():
            self._fill_ledger()

    def _arrange(self) -> None:
        """Tight spot first, then the card as high as it needs, the ledger with the rest.

        Where the rest is too little for two rows the ledger folds to its count, and where even the card would be
        cut it goes, so that the card lies over it as a sheet.
        """
        width, height = self.width(), self.height()
        spot = self.spot.heightForWidth(width)
        room = height - spot
        count = self.ledger.natural_height(0)
        rows = self.ledger.natural_height(_ROWS_LEAST) + round(scaled(34))
        least = round(scaled(_CARD_LEAST))
        wanted = max(least, self._wanted(self.card(), width))
        if room - least >= rows and self._desk.step not in _CARD_FIRST:
            card, folded = min(wanted, room - rows), False
        else:
            card, folded = room - count if room - count >= least else room, True
        self.spot.setGeometry(QRect(0, 0, width, spot))
        # One pixel at the left is the seam to the picture.
        self.cards.setGeometry(QRect(1, spot, width - 1, card))
        self.ledger.set_folded(folded)
        self.ledger.setVisible(room - card >= count)
        self.ledger.setGeometry(QRect(1, spot + card, width - 1, room - card))

    def _wanted(self, card: QWidget, width: int) -> int:
        """How high a card would like to be: its own wish, and where it scrolls, all of what it scrolls."""
        hint = card.sizeHint().height()
        if card.hasHeightForWidth():
            hint = max(hint, card.heightForWidth(width))
        for area in card.findChildren(QScrollArea):
            inside = area.widget()
            if inside is not None:
                hint += max(0, inside.sizeHint().height() - area.sizeHint().height())
        return hint

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(theme_in_use().paper))
        painter.fillRect(QRect(0, 0, 1, self.height()), QColor(theme_in_use().edge))
