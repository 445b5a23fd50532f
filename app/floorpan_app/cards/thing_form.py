"""One placed thing of a kind: which one, its measures, where it stands, and taking it out."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from floorpan import edits
from floorpan.items import Place, Vessel
from floorpan.layout import Thing
from floorpan_app.cards import words
from floorpan_app.cards.blocks import pressed, px, told
from floorpan_app.cards.form import Form, Offer
from floorpan_app.cards.quiet_combo import QuietCombo
from floorpan_app.cards.tried import tried
from floorpan_app.desk import Desk

_PLACE = ("x_mm", "y_mm", "z_mm", "turn_deg")


class ThingForm(QWidget):
    """Edits the thing in hand where it is of this kind, else the first of the kind.

    first : fields shown at once; more : fields folded away under *More measures*
    along : (thing, field, value) -> what else changes with it
    """

    def __init__(
        self,
        desk: Desk,
        model: type[Any],
        first: Sequence[str],
        more: Sequence[str] = (),
        *,
        offers: Mapping[str, Offer] | None = None,
        along: Callable[[Any, str, object], Mapping[str, object]] | None = None,
    ) -> None:
        super().__init__()
        self._desk = desk
        self._along = along
        self._thing: Thing | None = None
        self.which = QuietCombo((), words.WHICH)
        self.which.picked.connect(desk.select)
        self.form = Form(desk, model, first, self._commit, offers=offers)
        self.place = Form(desk, Place, _PLACE, self._commit_place, labels=words.PLACE)
        self._place_note = told(words.STANDS_IN_WELL, second=True)
        self.lock = QCheckBox(words.LOCKED)
        self.lock.clicked.connect(self._lock)
        self.fold = QPushButton(words.MORE_MEASURES)
        self.fold.setCheckable(True)
        self.fold.setProperty("role", "link")
        self.more = Form(desk, model, more, self._commit, offers=offers)
        self.fold.toggled.connect(self._unfold)
        self.out = pressed(words.TAKE_OUT, self._take_out, role="link")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(5))
        for widget in (self.which, self.form, self.place, self._place_note, self.lock, self.more):
            column.addWidget(widget)
        links = QHBoxLayout()
        links.addWidget(self.fold)
        links.addStretch(1)
        links.addWidget(self.out)
        column.addLayout(links)
        self.fold.setVisible(bool(more))
        self.more.hide()

    def show_things(self, things: Sequence[Thing]) -> Thing | None:
        """Choose among these by what is in hand, show it, and answer which it is; None where there is none."""
        in_hand = [thing for thing in things if thing.id == self._desk.selection] or list(things)
        thing = in_hand[0] if in_hand else None
        if thing is not None and self._thing is not None and thing.id != self._thing.id:
            # A place has no id of its own.
            self.place.start_again()
        self._thing = thing
        self.setVisible(thing is not None)
        self.which.setVisible(len(things) > 1)
        self.which.offer([(one.id, one.name) for one in things])
        if thing is None:
            return None
        self.which.show_key(thing.id)
        self.form.show_value(thing)
        self.more.show_value(thing)
        self.more.setVisible(self.fold.isChecked())
        self.out.setText(words.TAKE_OUT.format(name=thing.name))
        self._show_place(thing)
        return thing

    def follow(self, thing: Thing) -> None:
        """Only where it stands changed, while it is being dragged."""
        stands_free = not (isinstance(thing, Vessel) and thing.stands_in)
        if self._thing is not None and thing.id == self._thing.id and stands_free:
            self.place.show_value(thing.place)

    def _show_place(self, thing: Thing) -> None:
        in_well = isinstance(thing, Vessel) and bool(thing.stands_in)
        self.place.set_label("y_mm", words.ACROSS[self._desk.layout.driver_side])
        if not in_well:
            self.place.show_value(thing.place)
        self.place.setVisible(not in_well)
        self.place.setEnabled(not thing.locked)
        self._place_note.setVisible(in_well)
        self.lock.setVisible(not in_well)
        self.lock.setChecked(thing.locked)

    def _unfold(self, unfolded: bool) -> None:
        self.more.setVisible(unfolded)
        self.fold.setText(words.FEWER_MEASURES if unfolded else words.MORE_MEASURES)

    def _lock(self, locked: bool) -> None:
        thing = self._thing
        if thing is not None:
            entry = (words.LOCK_ENTRY if locked else words.UNLOCK_ENTRY).format(name=thing.name)
            tried(self._desk, entry, lambda layout: edits.lock(layout, thing.id, locked))

    def _take_out(self) -> None:
        thing = self._thing
        if thing is not None and not tried(
            self._desk,
            words.TAKE_OUT_ENTRY.format(name=thing.name),
            lambda layout: edits.remove(layout, thing.id),
        ):
            self._desk.select("")

    def _commit(self, name: str, value: object) -> str:
        thing = self._thing
        if thing is None:
            return ""
        also = self._along(thing, name, value) if self._along is not None else {}
        return tried(
            self._desk,
            words.CHANGE_ENTRY.format(name=thing.name),
            lambda layout: edits.change(layout, thing.id, **{**also, name: value}),
        )

    def _commit_place(self, name: str, value: object) -> str:
        thing = self._thing
        if thing is None:
            return ""
        if name == "turn_deg":
            by = float(value) - thing.place.turn_deg  # type: ignore[arg-type]
            entry = words.TURN_ENTRY.format(name=thing.name)
            return tried(self._desk, entry, lambda layout: edits.turn(layout, thing.id, by))
        to: dict[str, Any] = {name: value}
        entry = words.MOVE_ENTRY.format(name=thing.name)
        return tried(self._desk, entry, lambda layout: edits.move(layout, thing.id, **to))
