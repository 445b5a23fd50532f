"""Floor: carpet, and what the parts of the scan are."""

from PySide6.QtWidgets import QCheckBox, QComboBox, QGridLayout, QPushButton, QWidget

from floorpan import edits
from floorpan.layout import AREA_KINDS, Step
from floorpan_app.cards import words
from floorpan_app.cards.card import Card, heading, pressed, told
from floorpan_app.cards.form import Form


class FloorCard(Card):
    """One thickness of carpet, named areas by box, and what this car does not have."""

    step: Step = "floor"

    def build(self) -> None:
        self._form = Form(self.desk, ("carpet_mm",), self._commit)
        self.body.addWidget(self._form)
        self.body.addWidget(told(words.CARPET, second=True))
        self.body.addWidget(heading("Named parts of the scan"))
        self._list = QWidget()
        self._grid = QGridLayout(self._list)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setColumnStretch(0, 1)
        self.body.addWidget(self._list)
        self.kind = QComboBox()
        self.kind.addItems([kind for kind in AREA_KINDS if kind != "scan"])
        self.kind.setAccessibleName("What it is")
        self.body.addWidget(self.kind)
        self._add = pressed("Name what is in the crop box", self.add_area)
        self.body.addWidget(self._add)
        self.body.addWidget(
            told("Crop to the part, name it, then crop again: the name stays on the scan.", second=True)
        )
        self._no_dash = QCheckBox("This car has no dash")
        self._no_dash.toggled.connect(self._absent)
        self.body.addWidget(self._no_dash)

    def refresh(self) -> None:
        layout = self.desk.layout
        self._form.show_value(layout)
        self._no_dash.blockSignals(True)
        self._no_dash.setChecked("dash" in layout.absent)
        self._no_dash.blockSignals(False)
        while (item := self._grid.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        scan = layout.scans[0] if layout.scans else None
        self._add.setEnabled(scan is not None and scan.crop is not None)
        names = {thing.id: thing.name for thing in layout.things()}
        for row, area in enumerate(scan.areas if scan is not None else ()):
            stands = f", {names[area.stands_for]} stands for it" if area.stands_for in names else ""
            gone = QPushButton("\u00d7")
            gone.setFixedWidth(28)
            gone.setAccessibleName(f"Forget {area.kind}")
            gone.clicked.connect(lambda _=False, id=area.id: self._remove(id))
            self._grid.addWidget(told(f"{area.kind}{stands}"), row, 0)
            self._grid.addWidget(gone, row, 1)

    def add_area(self) -> None:
        """Name the part of the scan that the crop box holds now."""
        scan = self.desk.layout.scans[0]
        box, kind = scan.crop, self.kind.currentText()
        if box is not None:
            self.desk.change(f"Name the {kind}", lambda layout: edits.add_area(layout, scan.id, kind, box))

    def _remove(self, id: str) -> None:
        scan = self.desk.layout.scans[0]
        self.desk.change("Forget a part", lambda layout: edits.remove_area(layout, scan.id, id))

    def _absent(self, absent: bool) -> None:
        self.desk.change("Say what the car has", lambda layout: edits.mark_absent(layout, "dash", absent))

    def _commit(self, _name: str, value: object) -> None:
        self.desk.change("Carpet", lambda layout: edits.set_carpet(layout, float(value)))  # type: ignore[arg-type]
