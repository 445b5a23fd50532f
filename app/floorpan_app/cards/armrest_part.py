"""How high the armrest in hand may be, and setting it there."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from floorpan import edits
from floorpan.advice.armrest_band import ArmrestBand, armrest_band
from floorpan.items import Armrest
from floorpan.report import armrest_words as said
from floorpan.report.armrest_told import armrest_texts, set_text
from floorpan_app.cards.blocks import PartTitle, pressed, px, told
from floorpan_app.cards.tried import tried
from floorpan_app.desk import Desk


class ArmrestPart(QWidget):
    """The answer in words with a button; hidden while no armrest is in hand or nothing is known.

    Where elbows hang is worked out by the judge: what was told stands, greyed, until it has looked again.
    """

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._band: ArmrestBand | None = None
        self.told = told()
        self.note = told(said.NOTE, second=True)
        self.set = pressed("", self._set)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        for widget in (PartTitle(said.TITLE), self.told, self.set, self.note):
            column.addWidget(widget)
        self.hide()

    def refresh(self, rest: Armrest | None) -> None:
        """Look again where everything is judged; nothing is said where nobody shifts."""
        judging, layout = self._desk.judging, self._desk.layout
        if rest is None or (self._band is not None and self._band.rest_id != rest.id):
            self._band = None
        self.setEnabled(judging.fresh)
        if rest is not None and judging.fresh:
            self._band = armrest_band(judging.bench.scene(layout), rest)
        self.setVisible(self._band is not None)
        if self._band is None:
            return
        self.told.setText(" ".join(armrest_texts(self._band, layout, self._desk.system)))
        into = set_text(self._band, self._desk.system)
        self.set.setText(into)
        self.set.setVisible(bool(into))

    def _set(self) -> None:
        band = self._band
        if band is None or band.height.into is None:
            return
        into, id = band.height.into, band.rest_id
        entry = said.SET_ENTRY.format(name=self._desk.layout.thing(id).name)
        tried(self._desk, entry, lambda layout: edits.change(layout, id, height_mm=into))
