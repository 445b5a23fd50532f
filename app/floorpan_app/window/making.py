"""Putting the real parts together: the viewport, what fills it, its tools, and a card for each step."""

from PySide6.QtWidgets import QWidget

from floorpan.checks import Finding
from floorpan.layout import Step
from floorpan_app.desk import Desk
from floorpan_app.theme.record import Theme
from floorpan_app.viewport.view import Viewport
from floorpan_app.widgets.verb_button import Verb
from floorpan_app.widgets.words import Word
from floorpan_app.window.parts import Parts
from floorpan_app.window.picture import ViewportPicture


class _Bare:
    """The viewport by itself: looks from the six words, and shows nothing."""

    def __init__(self, viewport: Viewport) -> None:
        self._viewport = viewport

    def showing(self) -> tuple[Word, ...]:
        return ()

    def show(self, word: str, on: bool) -> None:
        self._viewport.scene.set_shown(word, on)

    def see_from(self, word: str) -> None:
        self._viewport.camera.see_from(word)  # type: ignore[arg-type]

    def turn_to(self, finding: Finding) -> None:
        if finding.at_mm is not None:
            self._viewport.turn_to(finding.at_mm[0])


def _no_verbs(_step: Step) -> tuple[Verb, ...]:
    return ()


def make_parts(desk: Desk, theme: Theme, parent: QWidget) -> Parts:
    """The parts of the bench, with the 3D library behind the picture."""
    viewport = Viewport(theme, parent)
    return Parts(picture=ViewportPicture(viewport), filling=_Bare(viewport), verbs=_no_verbs, cards={})
