"""How hard a corner every vessel shall stand: one number to the sides, fore and aft, and for an open drink."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QWidget

from floorpan import edits
from floorpan.errors import FloorpanError
from floorpan.layout import Layout
from floorpan.limits import LIMITS
from floorpan_app.cards import cup_words as said
from floorpan_app.cards.blocks import fault_line, px, show_fault, told
from floorpan_app.cards.cup_told import g_text
from floorpan_app.cards.form import FIELD_WIDTH
from floorpan_app.cards.spelling import spelling_of
from floorpan_app.cards.tried import tried
from floorpan_app.cards.typed import put_back, show_held
from floorpan_app.desk import Desk
from floorpan_app.widgets.length_field import LengthField, LengthLimits

ASKED = ("cup-corner", "cup-brake", "cup-spill")
_LEAST_G, _MOST_G = 0.1, 2.0


class CupCornerForm(QWidget):
    """One field."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        parse, show = spelling_of("g", "mm")
        self.field = LengthField(parse, show, name=said.CORNER, faults=(FloorpanError,), fault_below=False)
        self.field.set_limits(
            LengthLimits(
                least_mm=_LEAST_G,
                most_mm=_MOST_G,
                told=said.CORNER_SPAN.format(least=g_text(_LEAST_G), most=g_text(_MOST_G)),
            )
        )
        self.field.valueChosen.connect(self._chosen)
        self.field.setFixedWidth(px(FIELD_WIDTH))
        self.field.setToolTip(said.CORNER_TOLD)
        self.field.line_edit().setAccessibleDescription(said.CORNER_TOLD)
        label, fault = told(said.CORNER), fault_line()
        label.setToolTip(said.CORNER_TOLD)
        self.field.faultChanged.connect(lambda text: show_fault(fault, text))
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setColumnStretch(0, 1)
        grid.addWidget(label, 0, 0)
        grid.addWidget(self.field, 0, 1, Qt.AlignmentFlag.AlignTop)
        grid.addWidget(fault, 1, 0, 1, 2)

    def refresh(self) -> None:
        """Bring it up to date with the layout."""
        show_held(self.field, corner_of(self._desk.layout))

    def _chosen(self, value: float) -> None:
        notes = {change.id: change.note for change in self._desk.layout.limits}

        def asked(layout: Layout) -> Layout:
            for id in ASKED:
                layout = edits.set_limit(layout, id, value, note=notes.get(id, ""))
            return layout

        fault = tried(self._desk, said.CORNER_ENTRY.format(g=g_text(value)), asked)
        if fault:
            put_back(self.field, corner_of(self._desk.layout), fault)


def corner_of(layout: Layout) -> float:
    """The corner that is asked of every vessel [g]."""
    changed = next((change.value for change in layout.limits if change.id == ASKED[0]), None)
    return LIMITS[ASKED[0]].value if changed is None else changed
