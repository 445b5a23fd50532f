"""Plain parts in the place of viewport, stage and cards: they note what the window asks of them."""

from collections.abc import Callable, Mapping
from functools import partial
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from floorpan.checks import Finding
from floorpan.layout import Step
from floorpan_app.desk import Desk
from floorpan_app.theme.record import Theme
from floorpan_app.widgets.verb_button import Verb
from floorpan_app.widgets.words import Word
from floorpan_app.window.parts import Parts


class PlainPicture:
    """A widget that takes the keyboard, and a way to look that is only remembered."""

    def __init__(self, parent: QWidget) -> None:
        self.shown = QWidget(parent)
        self.shown.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.themes: list[Theme] = []
        self.insets = (0.0, 0.0)
        self.word = "free"
        self.looked: list[Mapping[str, Any]] = []
        self.closed = False
        self.clicked: Callable[[str], None] = lambda id: None
        self.pointed: Callable[[str], None] = lambda id: None
        self.moved: Callable[[], None] = lambda: None

    def widget(self) -> QWidget:
        return self.shown

    def set_theme(self, theme: Theme) -> None:
        self.themes.append(theme)

    def set_insets(self, top: float, bottom: float) -> None:
        self.insets = (top, bottom)

    def on_camera(self, told: Callable[[], None]) -> None:
        self.moved = told

    def on_ticket(self, clicked: Callable[[str], None], pointed: Callable[[str], None]) -> None:
        self.clicked, self.pointed = clicked, pointed

    def seen_from(self) -> str:
        return self.word

    def view(self) -> dict[str, Any]:
        return {"seen_from": self.word}

    def look(self, view: Mapping[str, Any]) -> None:
        self.looked.append(view)

    def close(self) -> None:
        self.closed = True


class PlainFilling:
    """Remembers what it was told to show."""

    def __init__(self, picture: PlainPicture) -> None:
        self._picture = picture
        self.on = {"scan": True, "seats": True}
        self.turned_to: list[Finding] = []
        self.stopped = False

    def showing(self) -> tuple[Word, ...]:
        return tuple(Word(id=id, word=id, on=on) for id, on in self.on.items())

    def show(self, word: str, on: bool) -> None:
        self.on[word] = on

    def see_from(self, word: str) -> None:
        self._picture.word = word
        self._picture.moved()

    def turn_to(self, finding: Finding) -> None:
        self.turned_to.append(finding)

    def stop(self) -> None:
        self.stopped = True


class PlainCard(QWidget):
    """A card that can be accepted once."""

    def __init__(self, step: str) -> None:
        super().__init__()
        self.step = step
        self.accepted = 0
        self.button = QPushButton(f"Accept {step}", self)
        column = QVBoxLayout(self)
        column.addStretch()
        column.addWidget(self.button)

    def can_accept(self) -> bool:
        return self.accepted == 0

    def accept(self) -> None:
        self.accepted += 1


def plain_parts(desk: Desk, theme: Theme, parent: QWidget) -> Parts:
    """Parts without a card for Pieces: a step that is not there yet must do no harm."""
    picture = PlainPicture(parent)
    steps = ("scan", "axes", "floor", "driver", "controls", "cup", "console", "check", "report")
    return Parts(
        picture=picture,
        filling=PlainFilling(picture),
        verbs=_verbs,
        cards={step: partial(PlainCard, step) for step in steps},
    )


def _verbs(step: Step) -> tuple[Verb, ...]:
    if step == "pieces":
        return ()
    return (Verb(id="measure", word="Measure", icon="measure"), Verb(id=step, word="Place", icon="place"))
