"""What every card shares: title, question, what to do next, a body that scrolls, and a foot with the acceptance."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import QEvent, QObject, QSize, Qt, Signal
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import QFrame, QLayout, QScrollArea, QVBoxLayout, QWidget

from floorpan import edits
from floorpan.checks import Finding
from floorpan.layout import Acceptance, Step
from floorpan_app.cards import words
from floorpan_app.cards.blocks import EDGE, heading, pressed, px, told
from floorpan_app.cards.foot import Foot
from floorpan_app.cards.notice import Notice
from floorpan_app.cards.steps import not_clear, of_step
from floorpan_app.cards.tab_order import order_tabs
from floorpan_app.cards.tried import tried
from floorpan_app.desk import Desk
from floorpan_app.theme.fonts import CARD_TITLE
from floorpan_app.theme.icons import themed_icon

_MOST_OFFERS = 2
_NARROWEST = 240.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """A button that does the next thing."""

    word: str
    does: Callable[[], object]
    icon: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """What has to be done before a card has anything to show: a sentence, and the buttons that do it."""

    told: str
    offers: tuple[Offer, ...] = ()


class _Scroll(QScrollArea):
    """Wishes to be as high as what is in it."""

    def __init__(self, inside: QWidget) -> None:
        super().__init__()
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        # The Tab key goes to what is inside; that scrolls.
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidget(inside)

    def sizeHint(self) -> QSize:
        inside = self.widget()
        return inside.sizeHint() if inside is not None else super().sizeHint()

    def minimumSizeHint(self) -> QSize:
        return QSize(0, px(40))


class Card(QWidget):
    """One step. A subclass lays `body` out in `build` and brings it up to date in `refresh`.

    asked(deed) : something that only the window can do, by the name of its action: `start`, `add scan`
    """

    asked = Signal(str)
    step: Step

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.desk = desk
        inside = QWidget()
        self.body = QVBoxLayout(inside)
        self.body.setContentsMargins(px(EDGE), px(14), px(EDGE - 2), px(12))
        self.body.setSpacing(px(8))
        self.body.addWidget(heading(self.title(), CARD_TITLE))
        self.body.addWidget(told(self.question(), second=True))
        self.next = Notice()
        self._offers = [pressed("", partial(self._take_offer, number)) for number in range(_MOST_OFFERS)]
        for button in self._offers:
            self.next.below.addWidget(button)
        self.body.addWidget(self.next)
        self._needed: Need | None = None
        self.build()
        self.body.addStretch(1)
        self._foot = Foot(self.title().lower())
        self._foot.accepted.connect(self.accept_with)
        self._foot.opened_again.connect(self._open_again)
        inside.installEventFilter(self)
        self._scrolled = _Scroll(inside)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self._scrolled, 1)
        column.addWidget(self._foot)
        self._connect()
        self._again()

    def _connect(self) -> None:
        desk = self.desk
        desk.document.layout_changed.connect(self._layout_changed)
        desk.judging.findings_changed.connect(self._found)
        desk.judging.scans_ready.connect(self._scans_ready)
        for signal in (desk.system_changed, desk.step_changed, desk.selection_changed):
            signal.connect(self._again_if_in_hand)
        desk.finding_chosen.connect(lambda _: self._found(desk.judging.findings))

    # What a card fills in.

    def build(self) -> None:
        """Lay the body out, once."""

    def add(self, *pieces: QWidget | QLayout) -> None:
        """Lay pieces out below one another."""
        for piece in pieces:
            if isinstance(piece, QWidget):
                self.body.addWidget(piece)
            else:
                self.body.addLayout(piece)

    def refresh(self) -> None:
        """Bring the body up to date with the layout."""

    def follow(self) -> None:
        """Bring up to date what changes while something is dragged."""

    def show_findings(self, findings: tuple[Finding, ...]) -> None:
        """Bring up to date what the body says of findings."""

    def need(self) -> Need | None:
        """What has to be done first, None for nothing."""
        return None

    def lacks(self) -> str:
        """Why there is nothing to accept yet, "" where there is."""
        return ""

    def doubts(self) -> str:
        """What else than findings wants a reason, "" for nothing."""
        return ""

    # What the window asks.

    def title(self) -> str:
        """The step's name."""
        return words.TITLES[self.step]

    def question(self) -> str:
        """What this step answers."""
        return words.QUESTIONS[self.step]

    def foot(self) -> Foot:
        """The acceptance, always in sight below the body."""
        return self._foot

    def can_accept(self) -> bool:
        """Whether the step can be signed off now."""
        return not self._foot.is_accepted() and not self.lacks()

    def accept(self) -> None:
        """Sign the step off; where not all of it is clear, ask for the reason first."""
        self._foot.press()

    def accept_with(self, reason: str) -> None:
        """Sign the step off with a reason, empty where all of it is clear."""
        step, today = self.step, self.desk.today()
        entry = words.ACCEPT_ENTRY.format(step=self.title().lower())
        tried(self.desk, entry, lambda layout: edits.accept(layout, step, date=today, reason=reason))

    def mine(self) -> list[Finding]:
        """The findings that this step answers for."""
        return [finding for finding in self.desk.judging.findings if of_step(finding, self.step)]

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        """All of the body and the foot, unscrolled."""
        foot = self._foot
        low = foot.heightForWidth(width) if foot.hasHeightForWidth() else foot.sizeHint().height()
        return self.body.totalHeightForWidth(width) + low

    def sizeHint(self) -> QSize:
        width = max(self.width(), px(_NARROWEST))
        return QSize(width, self.heightForWidth(width))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.LayoutRequest:
            # What scrolls grew or shrank: the card would like to do so too.
            self.updateGeometry()
        return super().eventFilter(watched, event)

    # Keeping up.

    def _layout_changed(self, *_: object) -> None:
        if self.desk.step != self.step:
            return
        if self.desk.document.previewing:
            self.follow()
        else:
            self._again()

    def _again_if_in_hand(self, *_: object) -> None:
        if self.desk.step == self.step:
            self._again()

    def _scans_ready(self) -> None:
        self._found(self.desk.judging.findings)

    def _found(self, findings: tuple[Finding, ...]) -> None:
        if self.desk.step == self.step:
            self.show_findings(findings)
            if not self.desk.document.previewing:
                self._show_need()
                self._show_foot()

    def _again(self) -> None:
        self._show_need()
        self.refresh()
        self.show_findings(self.desk.judging.findings)
        self._show_foot()
        order_tabs(self)

    def _show_need(self) -> None:
        need = self._needed = self.need()
        offers = need.offers if need is not None else ()
        for number, button in enumerate(self._offers):
            button.setVisible(number < len(offers))
            if number < len(offers):
                button.setText(offers[number].word)
                icon = offers[number].icon
                button.setIcon(themed_icon(icon) if icon else QIcon())
        self.next.say(need.told if need is not None else "", "next")

    def _take_offer(self, number: int) -> None:
        if self._needed is not None and number < len(self._needed.offers):
            self._needed.offers[number].does()

    def _show_foot(self) -> None:
        layout = self.desk.layout
        mark = edits.step_mark(layout, self.step)
        stamp = next((one for one in layout.accepted if one.step == self.step), None)
        asks = ", ".join(part for part in (not_clear(self.mine()), self.doubts()) if part)
        lacks = self.lacks()
        # What is missing is told once: above, where it can be done.
        told_above = lacks and self._needed is not None
        self._foot.show_state(mark, self._said(mark, stamp), asks, words.NOTHING_YET if told_above else lacks)

    def _said(self, mark: str, stamp: Acceptance | None) -> str:
        if stamp is None:
            return ""
        said = words.ACCEPTED.format(date=words.day(stamp.date))
        if stamp.reason:
            said = f"{said}: {stamp.reason}"
        return f"{words.LOOK_AGAIN[self.step]} {said}." if mark == "look again" else said

    def _open_again(self) -> None:
        step = self.step
        entry = words.OPEN_ENTRY.format(step=self.title().lower())
        tried(self.desk, entry, lambda layout: edits.open_again(layout, step))
