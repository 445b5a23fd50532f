"""The gate fitted to taped knobs: pivot, lever and angles follow from them, and each knob tells what it is off."""

from PySide6.QtWidgets import QCheckBox, QVBoxLayout, QWidget

from floorpan import edits
from floorpan.items import Shifter
from floorpan.items.gate_fit import GateFit, fit_gate
from floorpan.layout import Layout
from floorpan.units import System, show_length
from floorpan_app.cards import gate_fit_words as said
from floorpan_app.cards.blocks import at_left, pressed, px, told
from floorpan_app.cards.tried import tried
from floorpan_app.desk import Desk

_WEAK_MM = 20.0
"""A lever that is known less well than this is told to be."""


class GateFitPart(QWidget):
    """A part of the controls card, below the taped knobs."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._shifter: Shifter | None = None
        self._found: GateFit | None = None
        self.keep = QCheckBox(said.KEEP_PIVOT)
        self.fit = pressed(said.FIT, self._fit)
        self.said = told()
        self.fault = told()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        column.addWidget(self.keep)
        column.addLayout(at_left(self.fit))
        column.addWidget(self.said)
        column.addWidget(self.fault)
        self.fault.hide()
        self.said.hide()

    def refresh(self, shifter: Shifter) -> None:
        """Bring it up to date; what was found is told as long as the gate is the fitted one."""
        if self._shifter != shifter:
            self.fault.hide()
        self._shifter = shifter
        self.fit.setEnabled(len(shifter.knobs) > 1)
        found = self._found if self._found is not None and self._found.shifter == shifter else None
        self.said.setVisible(found is not None)
        if found is not None:
            self.said.setText("\n".join(sentences(found, self._desk.system)))

    def _fit(self) -> None:
        shifter = self._shifter
        if shifter is None:
            return

        def change(layout: Layout) -> Layout:
            held = self.keep.isChecked()
            self._found = fit_gate(shifter, pivot_held=held)
            return edits.gate_from_points(layout, shifter.id, pivot_held=held)

        fault = tried(self._desk, said.ENTRY.format(name=shifter.name), change)
        self.fault.setText(fault)
        self.fault.setVisible(bool(fault))
        if not fault:
            self.refresh(next(one for one in self._desk.layout.of(Shifter) if one.id == shifter.id))


def sentences(found: GateFit, system: System) -> tuple[str, ...]:
    """What a fit tells, in the order it is read."""

    def length(mm: float) -> str:
        return show_length(mm, system, with_unit=True)

    most = max(found.points, key=lambda one: one.off_mm)
    lines = [said.FITS.format(rms=length(found.rms_mm), gear=most.gear, most=length(most.off_mm))]
    points = (said.POINT.format(gear=one.gear, off=show_length(one.off_mm, system)) for one in found.points)
    lines.append(said.POINTS.format(points=said.JOIN.join(points)))
    if found.odd:
        lines.append(said.ODD.format(gear=found.odd, off=length(found.odd_off_mm)))
    rest = [one for one in found.knobs if not one.taped]
    if rest:
        each = (said.ONE.format(gear=one.gear, u=length(one.u_mm)) for one in rest)
        lines.append(said.REST.format(gears=said.JOIN.join(each)))
    weak = max((u for name, u in found.u if name in ("lever_mm", "pivot_mm")), default=0.0)
    if weak > _WEAK_MM:
        lines.append(said.WEAK.format(u=length(weak)))
    return tuple(lines)
