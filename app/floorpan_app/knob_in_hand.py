"""Where the knob should be, as it was found last: view state, not undoable, not in the layout."""

from PySide6.QtCore import QObject, Signal

from floorpan.advice.knob_for_driver import KnobAdvice


class KnobInHand(QObject):
    """The answer that is looked at, whether it is seen in the picture, and which of its sides stands out.

    changed() : any of them
    """

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.advice: KnobAdvice | None = None
        self.shown = True
        self.side = ""

    def lay(self, advice: KnobAdvice | None) -> None:
        """Look at another answer, or at none."""
        if advice is not self.advice:
            self.advice = advice
            self.side = ""
            self.changed.emit()

    def show(self, shown: bool) -> None:
        """Let it be seen in the picture, or not."""
        if shown != self.shown:
            self.shown = shown
            self.changed.emit()

    def choose(self, side: str) -> None:
        """Let a side stand out by what limits it; "" for none."""
        if side != self.side:
            self.side = side
            self.changed.emit()
