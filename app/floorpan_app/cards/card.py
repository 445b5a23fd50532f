"""What every card shares: title, question, a body that scrolls, and a foot with the acceptance."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QInputDialog,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from floorpan import edits
from floorpan.checks import Finding
from floorpan.layout import Step
from floorpan_app.cards import words
from floorpan_app.desk import Desk
from floorpan_app.theme.fonts import scaled, text_font
from floorpan_app.theme.icons import themed_icon

CHECKS_OF: dict[Step, tuple[str, ...]] = {
    "driver": ("reach", "elbow"),
    "controls": ("hand-", "lever-", "reach"),
    "cup": ("well-", "vessel-", "hand-vessel"),
    "console": ("console-", "seat-console", "hand-console", "stands"),
    "check": ("",),
    "report": ("",),
}


class Card(QWidget):
    """One step. A subclass fills `body` in `build` and brings it up to date in `refresh`."""

    step: Step

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.desk = desk
        inside = QWidget()
        self.body = QVBoxLayout(inside)
        self.body.setContentsMargins(16, 12, 16, 8)
        self.body.setSpacing(8)
        self.body.addWidget(heading(words.TITLES[self.step], 18))
        self.body.addWidget(told(words.QUESTIONS[self.step], second=True))
        self.build()
        self.body.addStretch(1)
        area = QScrollArea()
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setWidgetResizable(True)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setWidget(inside)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(area, 1)
        layout.addLayout(self._foot())
        desk.document.layout_changed.connect(self._changed)
        desk.judging.findings_changed.connect(self._found)
        desk.system_changed.connect(self._changed)
        desk.step_changed.connect(self._changed)
        self._again()

    def build(self) -> None:
        """Make the body once."""

    def refresh(self) -> None:
        """Bring the body up to date with the layout."""

    def show_findings(self, findings: tuple[Finding, ...]) -> None:
        """Bring what the body says of findings up to date."""

    # Acceptance.

    def can_accept(self) -> bool:
        """Whether the step can be signed off now."""
        return edits.step_mark(self.desk.layout, self.step) not in ("accepted", "accepted as it is")

    def accept(self) -> None:
        """Sign the step off; with a reason where something of it is not clear."""
        failing = [f for f in self._mine() if f.verdict != "clear"]
        reason = ""
        if failing:
            reason, good = QInputDialog.getText(self, words.ACCEPT_AS_IT_IS, words.WHY)
            if not good or not reason.strip():
                return
        self.accept_with(reason.strip())

    def accept_with(self, reason: str) -> None:
        """Sign the step off with a reason, empty where all of it is clear."""
        step, today = self.step, self.desk.today()
        self.desk.change(
            f"Accept {words.TITLES[step].lower()}",
            lambda layout: edits.accept(layout, step, date=today, reason=reason),
        )

    def _mine(self) -> list[Finding]:
        names = CHECKS_OF.get(self.step, ())
        return [f for f in self.desk.judging.findings if any(f.check.startswith(name) for name in names)]

    def _foot(self) -> QVBoxLayout:
        self._stamp = told("", second=True)
        self._accept = QPushButton()
        self._accept.setProperty("role", "accept")
        self._accept.setIcon(themed_icon("accept", "on_accent"))
        self._accept.setMinimumHeight(round(scaled(32)))
        self._accept.clicked.connect(self.accept)
        self._open = QPushButton(words.OPEN_AGAIN)
        self._open.setMinimumHeight(round(scaled(32)))
        self._open.clicked.connect(self._open_again)
        row = QHBoxLayout()
        row.addWidget(self._open)
        row.addStretch(1)
        row.addWidget(self._accept)
        foot = QVBoxLayout()
        foot.setContentsMargins(16, 4, 16, 10)
        foot.addWidget(self._stamp)
        foot.addLayout(row)
        return foot

    def _open_again(self) -> None:
        step = self.step
        self.desk.change(
            f"Open {words.TITLES[step].lower()} again", lambda layout: edits.open_again(layout, step)
        )

    def _changed(self, *_: object) -> None:
        if self.desk.step == self.step and not self.desk.document.previewing:
            self._again()

    def _found(self, findings: tuple[Finding, ...]) -> None:
        if self.desk.step == self.step:
            self.show_findings(findings)
            self._show_foot()

    def _again(self) -> None:
        self.refresh()
        self.show_findings(self.desk.judging.findings)
        self._show_foot()

    def _show_foot(self) -> None:
        layout = self.desk.layout
        mark = edits.step_mark(layout, self.step)
        stamp = next((a for a in layout.accepted if a.step == self.step), None)
        said = words.ACCEPTED.format(date=stamp.date) if stamp else ""
        if stamp and stamp.reason:
            said += f": {stamp.reason}"
        if mark == "look again":
            said = f"{words.LOOK_AGAIN}. {said}"
        self._stamp.setText(said)
        self._stamp.setVisible(bool(said))
        self._open.setVisible(stamp is not None)
        self._accept.setVisible(self.can_accept())
        clear = all(f.verdict == "clear" for f in self._mine())
        step = words.TITLES[self.step].lower()
        self._accept.setText(words.ACCEPT.format(step=step) if clear else words.ACCEPT_AS_IT_IS)


def heading(text: str, px: float = 15) -> QLabel:
    """A bold line."""
    label = QLabel(text)
    label.setFont(text_font(px, label.font().Weight.DemiBold))
    return label


def told(text: str, *, second: bool = False) -> QLabel:
    """A sentence that breaks into lines."""
    label = QLabel(text)
    label.setWordWrap(True)
    label.setTextFormat(Qt.TextFormat.PlainText)
    if second:
        label.setProperty("role", "second")
    return label


class Facts(QWidget):
    """Names at the left, values at the right."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setVerticalSpacing(4)
        self._grid.setColumnStretch(1, 1)

    def show_facts(self, facts: list[tuple[str, str]]) -> None:
        """Show these pairs in place of those before."""
        while (item := self._grid.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        for row, (name, value) in enumerate(facts):
            shown = told(value)
            shown.setAlignment(Qt.AlignmentFlag.AlignRight)
            self._grid.addWidget(told(name, second=True), row, 0)
            self._grid.addWidget(shown, row, 1)


def pressed(text: str, does: object, *, icon: str = "") -> QPushButton:
    """A button of the usual height."""
    button = QPushButton(text)
    button.setMinimumHeight(round(scaled(28)))
    if icon:
        button.setIcon(themed_icon(icon))
    button.clicked.connect(lambda _=False: does())  # type: ignore[operator]
    return button
