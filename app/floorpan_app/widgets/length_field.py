"""A field for a length: takes what somebody types, says below what it cannot take, and keeps the typed text."""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QMetaMethod, QObject, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QLabel, QLineEdit, QSizePolicy, QVBoxLayout, QWidget

from floorpan_app.theme.fonts import SECOND, scaled, text_font
from floorpan_app.theme.stylesheet import restyle

Parse = Callable[[str], float]
Show = Callable[[float], str]

# A menu or another window takes the keyboard for a while only: nobody has left the field.
_SHORT_LEAVES = (Qt.FocusReason.PopupFocusReason, Qt.FocusReason.ActiveWindowFocusReason)


@dataclass(frozen=True, slots=True, kw_only=True)
class LengthLimits:
    """What a field takes, in millimetres. `told` is its own sentence, as `A lever is 60 to 600 mm long.`"""

    least_mm: float
    most_mm: float
    told: str = ""


class LengthField(QWidget):
    """A line edit with its fault below it.

    `parse` turns text into millimetres and raises one of `faults`, whose text is shown; `show` writes
    millimetres in the unit of the moment. Enter and leaving the field hand the value on, Escape brings the last
    good one back, arrows up and down step by `step_mm` (Shift 10 times, Alt a tenth). With `fault_below` off somebody
    else says what is wrong.
    """

    valueChosen = Signal(float)
    """Millimetres, once somebody has settled on another value."""
    emptied = Signal()
    """Somebody emptied a field that held a value; only where somebody listens, else it is no length."""
    faultChanged = Signal(str)
    """What is wrong with the typed text, or nothing: for whoever has more room to say it."""

    def __init__(
        self,
        parse: Parse,
        show: Show,
        *,
        value_mm: float | None = None,
        limits: LengthLimits | None = None,
        name: str = "",
        step_mm: float = 1.0,
        faults: tuple[type[Exception], ...] = (ValueError,),
        fault_below: bool = True,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._fault_below = fault_below
        self._parse = parse
        self._show = show
        self._faults = faults
        self._limits = limits
        self._step_mm = step_mm
        self._value_mm: float | None = None
        self._edit = QLineEdit(self)
        self._edit.setAlignment(Qt.AlignmentFlag.AlignRight)
        self._edit.installEventFilter(self)
        self._fault = QLabel(self)
        self._fault.setProperty("role", "fault")
        self._fault.setFont(text_font(SECOND))
        self._fault.setWordWrap(True)
        self._fault.hide()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(round(scaled(4)))
        layout.addWidget(self._edit)
        layout.addWidget(self._fault)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setFocusProxy(self._edit)
        self._edit.returnPressed.connect(self._settle)
        self.set_name(name)
        self.set_value_mm(value_mm)

    def set_name(self, name: str) -> None:
        """The name read aloud; the label beside the field says the same."""
        self.setAccessibleName(name)
        self._edit.setAccessibleName(name)

    def set_limits(self, limits: LengthLimits | None) -> None:
        self._limits = limits

    def set_units(self, parse: Parse, show: Show) -> None:
        """Take and write another unit; the value stays what it is."""
        self._parse, self._show = parse, show
        self.set_value_mm(self._value_mm)

    def value_mm(self) -> float | None:
        """The last good value in millimetres, None while nothing was ever given."""
        return self._value_mm

    def set_value_mm(self, value_mm: float | None) -> None:
        """Show a value without saying so; an earlier fault is gone."""
        self._value_mm = value_mm
        self._edit.setText("" if value_mm is None else self._show(value_mm))
        self._tell("")

    def fault(self) -> str:
        """What is wrong with the typed text, or nothing."""
        return self._fault.text()

    def set_fault(self, fault: str) -> None:
        """Show a fault that only the caller can know, or take it away."""
        self._tell(fault)

    def line_edit(self) -> QLineEdit:
        """The edit inside, as the buddy of a label."""
        return self._edit

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self._edit:
            if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
                return self._took_key(event)
            if isinstance(event, QFocusEvent) and event.lostFocus() and event.reason() not in _SHORT_LEAVES:
                self._settle()
        return super().eventFilter(watched, event)

    def _took_key(self, event: QKeyEvent) -> bool:
        key = event.key()
        if key == Qt.Key.Key_Escape and (self._edit.isModified() or self.fault()):
            self.set_value_mm(self._value_mm)
            self._edit.selectAll()
            return True
        if key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            step = self._step_mm
            if event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
                step *= 10
            if event.modifiers() & Qt.KeyboardModifier.AltModifier:
                step /= 10
            self._step(step if key == Qt.Key.Key_Up else -step)
            return True
        return False

    def _step(self, by_mm: float) -> None:
        start = self._read(self._edit.text())
        if isinstance(start, str):
            return
        stepped = start + by_mm
        if self._limits is not None:
            stepped = min(max(stepped, self._limits.least_mm), self._limits.most_mm)
        self._take(stepped)

    def _settle(self) -> None:
        """Read the typed text: a new value is handed on, a fault is told, the text stays either way."""
        text = self._edit.text()
        if not text.strip() and self._value_mm is None:
            return
        if self._value_mm is not None and text == self._show(self._value_mm):
            self._tell("")
            return
        if not text.strip() and self.isSignalConnected(QMetaMethod.fromSignal(self.emptied)):
            # What it holds comes back at once; whoever listens may show something else.
            self.set_value_mm(self._value_mm)
            self.emptied.emit()
            return
        value = self._read(text)
        if isinstance(value, str):
            self._tell(value)
            return
        self._take(value)

    def _take(self, value_mm: float) -> None:
        changed = value_mm != self._value_mm
        self.set_value_mm(value_mm)
        if changed:
            self.valueChosen.emit(value_mm)

    def _read(self, text: str) -> float | str:
        """Millimetres, or the fault in words."""
        try:
            value = self._parse(text)
        except self._faults as fault:
            return str(fault)
        limits = self._limits
        if limits is None or limits.least_mm <= value <= limits.most_mm:
            return value
        told = limits.told or f"Between {self._show(limits.least_mm)} and {self._show(limits.most_mm)}."
        return f"{told}{self._inch_hint(text, limits)}"

    def _inch_hint(self, text: str, limits: LengthLimits) -> str:
        """A bare number that would fit in inches was probably meant so."""
        if any(letter.isalpha() or letter in "\"'" for letter in text):
            return ""
        try:
            value = self._parse(f"{text} in")
        except self._faults:
            return ""
        fits = limits.least_mm <= value <= limits.most_mm
        return f" Inches? Type {text.strip()} in." if fits else ""

    def _tell(self, fault: str) -> None:
        changed = fault != self._fault.text()
        self._fault.setText(fault)
        self._fault.setVisible(bool(fault) and self._fault_below)
        self._edit.setAccessibleDescription(fault)
        if bool(self._edit.property("fault")) != bool(fault):
            self._edit.setProperty("fault", bool(fault))
            restyle(self._edit)
        if changed:
            self.faultChanged.emit(fault)
