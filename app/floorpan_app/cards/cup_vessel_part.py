"""The vessel in hand: what it does, its outline, its weights and how high it is filled."""

from dataclasses import dataclass, replace
from typing import Annotated

from PySide6.QtWidgets import QCheckBox, QPushButton, QVBoxLayout, QWidget

from floorpan import edits
from floorpan.fields import Range
from floorpan.items import CupHolder, Vessel
from floorpan.units import show_length
from floorpan_app.cards import cup_words as said
from floorpan_app.cards import words
from floorpan_app.cards.blocks import at_left, pressed, px, told
from floorpan_app.cards.measure_table import MeasureTable
from floorpan_app.cards.thing_form import ThingForm
from floorpan_app.cards.tried import tried
from floorpan_app.desk import Desk

_STEP_MM = 20.0
_FIELDS = ("name", "stands_in", "full_kg", "empty_kg", "filled_to_mm")


@dataclass(frozen=True, slots=True, kw_only=True)
class Across:
    """A point of a vessel's outline as a builder tapes it: how high over the base, how wide there."""

    height_mm: Annotated[float, Range(0, 600, "mm", "Height", "Over the base.")]
    across_mm: Annotated[float, Range(2, 300, "mm", "Across", "From side to side at that height.")]


class CupVesselPart(QWidget):
    """A part of the cup's card, shown while a vessel is in hand."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._vessel: Vessel | None = None
        self.does = told(second=True)
        self.form = ThingForm(desk, Vessel, _FIELDS, offers={"stands_in": self._wells})
        self.open_top = QCheckBox(said.OPEN_TOP)
        self.open_top.clicked.connect(self._set_open)
        self.table = MeasureTable(
            desk, Across, words.PROFILE_COLUMNS, self._set_profile, named=self._named, fewest=2
        )
        self.fold = QPushButton(words.PROFILE)
        self.fold.setCheckable(True)
        self.fold.setProperty("role", "link")
        self.fold.toggled.connect(self._unfold)
        self._note = told(second=True)
        self.add_height = pressed(words.PROFILE_ADD, self._add_a_height, icon="add")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, px(4), 0, px(4))
        column.setSpacing(px(8))
        for widget in (self.does, self.form, self.open_top):
            column.addWidget(widget)
        column.addLayout(at_left(self.fold))
        column.addWidget(self._outline())
        self.hide()

    def _outline(self) -> QWidget:
        """The outline, folded away until it is asked for."""
        self.outline = QWidget()
        column = QVBoxLayout(self.outline)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        for widget in (self._note, self.table, self.add_height):
            column.addWidget(widget)
        self.outline.hide()
        return self.outline

    def show_vessel(self, vessel: Vessel | None) -> None:
        """Bring it up to date; None where no vessel is in hand."""
        self._vessel = vessel
        self.setVisible(vessel is not None)
        self.form.show_things((vessel,) if vessel is not None else ())
        if vessel is None:
            return
        self.open_top.setChecked(vessel.open_top)
        self._show_outline(vessel)

    def _show_outline(self, vessel: Vessel) -> None:
        if self.fold.isChecked():
            self._note.setText(said.PROFILE_NOTE.format(note=words.PROFILE_NOTE, unit=self._desk.system))
            self.table.show_values(_outline(vessel), vessel.id)

    def _unfold(self, unfolded: bool) -> None:
        self.outline.setVisible(unfolded)
        if self._vessel is not None:
            self._show_outline(self._vessel)

    def show_does(self, texts: tuple[str, ...]) -> None:
        """What it does, in sentences."""
        self.does.setText(" ".join(texts))
        self.does.setVisible(bool(texts))

    def _named(self, point: Across) -> str:
        return words.PROFILE_POINT.format(n=show_length(point.height_mm, self._desk.system))

    def _wells(self) -> list[tuple[str, str]]:
        holders = self._desk.layout.of(CupHolder)
        return [("", words.NO_WELL), *((one.id, one.name) for one in holders)]

    def _add_a_height(self) -> None:
        """One point more at the top, a little higher and as wide."""
        if self._vessel is not None:
            outline = _outline(self._vessel)
            top = outline[-1]
            self.table.say(self._set_profile((*outline, replace(top, height_mm=top.height_mm + _STEP_MM))))

    def _set_open(self, opened: bool) -> None:
        vessel = self._vessel
        if vessel is not None:
            entry = (said.OPEN_TOP_ENTRY if opened else said.CLOSE_TOP_ENTRY).format(name=vessel.name)
            tried(self._desk, entry, lambda layout: edits.change(layout, vessel.id, open_top=opened))

    def _set_profile(self, outline: tuple[Across, ...]) -> str:
        vessel = self._vessel
        if vessel is None:
            return ""
        profile = tuple((point.height_mm, point.across_mm / 2) for point in outline)
        entry = words.CHANGE_ENTRY.format(name=vessel.name)
        return tried(self._desk, entry, lambda layout: edits.change(layout, vessel.id, profile=profile))


def _outline(vessel: Vessel) -> tuple[Across, ...]:
    return tuple(Across(height_mm=height, across_mm=2 * radius) for height, radius in vessel.profile)
