"""Keys in the viewport: for the thing in hand, the gear, the tool, the view. They act only while it has the keys."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent

from floorpan_app.stage.hands import Holding
from floorpan_app.stage.verbs import DRAG, LOCK, MEASURE, MIRROR, TURN
from floorpan_app.viewport.keys import TOOL_KEYS
from floorpan_app.viewport.view import Viewport, held

_Key = Qt.Key

GEARS: Final[dict[int, str]] = {
    _Key.Key_1: "1",
    _Key.Key_2: "2",
    _Key.Key_3: "3",
    _Key.Key_4: "4",
    _Key.Key_5: "5",
    _Key.Key_6: "6",
    _Key.Key_R: "R",
    _Key.Key_N: "N",
}
TOOLS: Final[dict[int, str]] = {
    _Key.Key_D: DRAG,
    _Key.Key_T: TURN,
    _Key.Key_M: MIRROR,
    _Key.Key_L: LOCK,
    _Key.Key_K: MEASURE,
}
PLACE_KEY: Final = _Key.Key_P
VIEWS: Final[dict[int, str]] = {
    _Key.Key_D: "driver",
    _Key.Key_P: "passenger",
    _Key.Key_A: "above",
    _Key.Key_F: "front",
    _Key.Key_R: "rear",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Deeds:
    """What keys do beyond the thing in hand."""

    see_from: Callable[[str], None]
    put_in_gear: Callable[[str], None]
    use_tool: Callable[[str], None]
    place: Callable[[], None]
    see_tight_spot: Callable[[], None]
    see_through: Callable[[bool], None]


class ViewKeys(QObject):
    """Watches the viewport's keys. `letters` may be turned off for those who need them for other ends."""

    def __init__(self, view: Viewport, holding: Holding, deeds: Deeds, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._holding = holding
        self._deeds = deeds
        self.letters = True
        view.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.FocusOut:
            self._holding.settle()
            self._deeds.see_through(False)
            return False
        if not isinstance(event, QKeyEvent):
            return False
        if event.type() == QEvent.Type.KeyPress:
            return self._pressed(event)
        if event.type() == QEvent.Type.KeyRelease and not event.isAutoRepeat():
            return self._released(event)
        return False

    def _pressed(self, event: QKeyEvent) -> bool:
        name, modifiers = TOOL_KEYS.get(event.key()), held(event)
        if name == "escape":
            if not self._holding.escape():
                # For whoever holds the viewport.
                event.ignore()
            return True
        if name is not None:
            return not modifiers.control and self._holding.key(name, modifiers)
        if event.key() == _Key.Key_End:
            self._deeds.see_tight_spot()
            return True
        return self.letters and self._letter(event)

    def _released(self, event: QKeyEvent) -> bool:
        if event.key() in TOOL_KEYS:
            self._holding.settle()
        elif event.key() == _Key.Key_Space:
            self._deeds.see_through(False)
        return False

    def _letter(self, event: QKeyEvent) -> bool:
        key, modifiers = event.key(), held(event)
        if modifiers.control or modifiers.alt:
            return False
        if key == _Key.Key_Space:
            if not event.isAutoRepeat():
                self._deeds.see_through(True)
            return True
        if modifiers.shift:
            return self._one_of(VIEWS, key, self._deeds.see_from)
        if key == PLACE_KEY:
            self._deeds.place()
            return True
        return self._one_of(GEARS, key, self._deeds.put_in_gear) or self._one_of(
            TOOLS, key, self._deeds.use_tool
        )

    def _one_of(self, table: dict[int, str], key: int, deed: Callable[[str], None]) -> bool:
        if key not in table:
            return False
        deed(table[key])
        return True
