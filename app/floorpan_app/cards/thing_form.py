"""A placed thing's own form with its place, and a second form for the measures that are seldom changed."""

from collections.abc import Sequence
from typing import Any

from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from floorpan import edits
from floorpan.layout import Thing
from floorpan_app.cards.form import Form
from floorpan_app.desk import Desk


class ThingForm(QWidget):
    """Edits one placed thing; `more` fields are folded away at first."""

    def __init__(
        self, desk: Desk, first: Sequence[str], more: Sequence[str] = (), *, placed: bool = True
    ) -> None:
        super().__init__()
        self._desk = desk
        self._thing: Thing | None = None
        self.form = Form(desk, first, self._commit)
        self.place = Form(desk, ("x_mm", "y_mm", "z_mm", "turn_deg"), self._commit_place)
        self.more = Form(desk, more, self._commit)
        self._fold = QPushButton("More measures")
        self._fold.setCheckable(True)
        self._fold.setProperty("role", "link")
        self._fold.toggled.connect(self.more.setVisible)
        self._placed = placed
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.form)
        layout.addWidget(self.place)
        if more:
            layout.addWidget(self._fold)
        layout.addWidget(self.more)
        self.more.hide()

    def show_thing(self, thing: Thing | None) -> None:
        """Show a thing, None for an empty form."""
        self._thing = thing
        self.setVisible(thing is not None)
        self.form.show_value(thing)
        self.more.show_value(thing)
        self.place.setVisible(self._placed and thing is not None)
        self.place.show_value(thing.place if thing is not None else None)

    def _commit(self, name: str, value: object) -> None:
        thing = self._thing
        if thing is not None:
            self._desk.change(
                f"Change {thing.name}", lambda layout: edits.change(layout, thing.id, **{name: value})
            )

    def _commit_place(self, name: str, value: object) -> None:
        thing = self._thing
        if thing is None:
            return
        if name == "turn_deg":
            by = float(value) - thing.place.turn_deg  # type: ignore[arg-type]
            self._desk.change(f"Turn {thing.name}", lambda layout: edits.turn(layout, thing.id, by))
        else:
            to: dict[str, Any] = {name: value}
            self._desk.change(f"Move {thing.name}", lambda layout: edits.move(layout, thing.id, **to))
