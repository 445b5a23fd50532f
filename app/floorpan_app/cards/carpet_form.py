"""What lies on a part of the floor, layer by layer, loose and squeezed."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from PySide6.QtWidgets import QVBoxLayout, QWidget

from floorpan.scan.carpet import LAYER_KINDS, Carpet, Layer, down_panel
from floorpan.units import show_length, show_number
from floorpan_app.cards import scan_words
from floorpan_app.cards.blocks import px, told
from floorpan_app.cards.measure_table import MeasureTable
from floorpan_app.desk import Desk


class CarpetForm(QWidget):
    """A row for each kind of layer; one without thickness is not there. `commit` takes the changed carpet."""

    def __init__(self, desk: Desk, commit: Callable[[Carpet], str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._commit = commit
        self.table = MeasureTable(
            desk,
            Layer,
            (("loose_mm", scan_words.LOOSE), ("squeezed_mm", scan_words.SQUEEZED)),
            self._changed,
            named=lambda layer: str(layer.kind),
            lead=scan_words.LAYER,
            fewest=len(LAYER_KINDS),
            with_=_with,
        )
        self._all = told(second=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(6))
        column.addWidget(self.table)
        column.addWidget(self._all)

    def show_carpet(self, carpet: Carpet, of: str) -> None:
        """Show a carpet; `of` is the id of what it lies on."""
        held = {layer.kind: layer for layer in carpet.layers}
        self.table.show_values(
            [held.get(kind, Layer(kind=kind, loose_mm=0.0, squeezed_mm=0.0)) for kind in LAYER_KINDS], of
        )
        system = self._desk.system
        loose, squeezed = (show_length(mm, system) for mm in (carpet.loose_mm, carpet.squeezed_mm))
        down = ", ".join(
            scan_words.DOWN_ONE.format(
                n=show_length(mm, system, digits=0, parts=16), slope=show_number(slope, 0)
            )
            for slope, mm in down_panel(carpet.loose_mm)
        )
        self._all.setText(
            scan_words.CARPET_ALL.format(loose=loose, squeezed=squeezed, unit=system, down=down)
            if carpet.layers
            else scan_words.CARPET_BARE
        )

    def _changed(self, layers: tuple[Any, ...]) -> str:
        return self._commit(Carpet(layers=tuple(layer for layer in layers if layer.loose_mm > 0.0)))


def _with(layer: Any, name: str, value: float) -> Any:
    """A layer with another thickness; squeezed it is never thicker than loose."""
    if name == "loose_mm" and isinstance(layer, Layer):
        return replace(layer, loose_mm=value, squeezed_mm=min(layer.squeezed_mm, value))
    return replace(layer, **{name: value})
