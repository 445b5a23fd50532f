"""Why the knob moved away: the old seat and knob beside the new, cause by cause."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from PySide6.QtWidgets import QVBoxLayout, QWidget

from floorpan import edits
from floorpan.derive import Scene, as_it_stands, moved_since
from floorpan.driver.moved_away import CAUSES, Cause, MovedAway
from floorpan.frames import Vector
from floorpan.items import Place, Seat
from floorpan.layout import Before, Layout
from floorpan.report.driver_told import (
    cause_text,
    change_text,
    raised_text,
    signed_text,
    telling_causes,
    then_now_text,
)
from floorpan.report.driver_words import NOTHING_CHANGED
from floorpan.report.naming import capital
from floorpan_app.cards import driver_words as said
from floorpan_app.cards import words
from floorpan_app.cards.blocks import PartTitle, Rule, at_left, pressed, px, told
from floorpan_app.cards.form import Form
from floorpan_app.cards.tried import tried
from floorpan_app.desk import Desk
from floorpan_app.standing import standing
from floorpan_app.widgets.cause_bars import CauseBars, CauseReading

_PLACE = ("x_mm", "y_mm", "z_mm")


class MovedPart(QWidget):
    """A part of the driver's card."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._told = told()
        self.bars = CauseBars(len(CAUSES), said.WAYS)
        self._raised = told()
        self._notches = told(second=True)
        self.keep = pressed(said.KEEP, self._keep)
        self.forget = pressed(said.FORGET, self._forget, role="link")
        self.fold = pressed(said.TYPE_OLD, self._unfold, role="link")
        self.fold.setCheckable(True)
        self.old_seat = Form(desk, Place, _PLACE, self._commit_seat_place, labels=words.PLACE)
        self.old_back = Form(
            desk, Seat, ("back_deg",), self._commit_seat, labels={"back_deg": said.OLD_TORSO}
        )
        self.old_knob = Form(desk, Place, _PLACE, self._commit_knob, labels=words.PLACE)
        self._typed = QWidget()
        typed = QVBoxLayout(self._typed)
        typed.setContentsMargins(0, 0, 0, 0)
        typed.setSpacing(px(6))
        fields: tuple[QWidget, ...] = (
            told(said.OLD_SEAT),
            self.old_seat,
            self.old_back,
            told(said.OLD_KNOB),
            self.old_knob,
        )
        for widget in fields:
            typed.addWidget(widget)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        title = PartTitle(said.MOVED, said.SHOULDER_TO_KNOB)
        pieces: tuple[QWidget, ...] = (
            Rule(),
            title,
            self._told,
            self.bars,
            self._raised,
            self._notches,
            self.keep,
        )
        for piece in pieces:
            column.addWidget(piece)
        links = at_left(self.fold)
        links.addWidget(self.forget)
        column.addLayout(links)
        column.addWidget(self._typed)
        self._typed.hide()

    def refresh(self) -> None:
        """Bring it up to date with the layout."""
        notch = self._notch()
        self.setVisible(notch is not None)
        if notch is None:
            return
        before = self._before()
        is_kept = before.seat is not None or before.knob_mm is not None
        self.keep.setText(said.KEEP_INSTEAD if is_kept else said.KEEP)
        self.keep.setToolTip(said.KEEP_NOTE.format(notch=notch))
        self.forget.setVisible(is_kept)
        self._typed.setVisible(self.fold.isChecked())
        self._show_typed()
        self.follow()

    def follow(self) -> None:
        """Only what the bars show, while seat or shifter is dragged."""
        notch = self._notch()
        if notch is None:
            return
        before, system = self._before(), self._desk.system
        moved = moved_since(self._scene(), notch)
        causes = telling_causes(moved) if moved is not None else ()
        self._told.setText(self._sentence(before, moved))
        self.bars.show_readings([self._reading(cause) for cause in causes])
        raised = raised_text(moved, system) if moved is not None else ""
        self._raised.setText(raised)
        self._raised.setVisible(bool(raised))
        self._notches.setText(self._notches_told(before, notch))

    def told(self) -> str:
        """The sentence over the bars."""
        return self._told.text()

    def raised(self) -> str:
        """What is said of everything fixed to the car."""
        return self._raised.text()

    # What is shown.

    def _before(self) -> Before:
        return self._desk.layout.before

    def _scene(self) -> Scene:
        # Of a scene only the layout is asked; no scan has to be ready.
        return Scene(layout=self._desk.layout, floors=(), memory=self._desk.judging.bench.memory)

    def _notch(self) -> int | None:
        """The notch that the design driver's seat is shown at, None where nobody drives."""
        layout = self._desk.layout
        person = layout.driver()
        seat = next((one for one in layout.seats if person is not None and one.id == person.seat_id), None)
        if seat is None:
            return None
        return int(dict(standing(layout, self._desk.state))[f"{seat.id}.notch"])

    def _sentence(self, before: Before, moved: MovedAway | None) -> str:
        if moved is not None:
            then_now = then_now_text(moved, self._desk.system)
            return f"{then_now}." if telling_causes(moved) else NOTHING_CHANGED
        if before.seat is not None:
            return said.NO_OLD_KNOB
        return said.NO_OLD_SEAT if before.knob_mm is not None else said.NOTHING_KEPT

    def _notches_told(self, before: Before, notch: int) -> str:
        if before.seat is None:
            return said.KEEP_NOTE.format(notch=notch)
        return said.AT_NOTCH.format(old=int(before.seat.notch_here), notch=notch)

    def _reading(self, cause: Cause) -> CauseReading:
        system = self._desk.system
        spoken = capital(cause_text(cause, system, with_unit=True))
        return CauseReading(
            label=cause_text(cause, system),
            share_mm=cause.share_mm,
            figure=signed_text(cause.share_mm, system),
            sentence=said.BAR_SPOKEN.format(cause=spoken, did=change_text(cause.share_mm, system)),
        )

    def _show_typed(self) -> None:
        across = words.ACROSS[self._desk.layout.driver_side]
        for form in (self.old_seat, self.old_knob):
            form.set_label("y_mm", across)
        kept = self._kept()
        self.old_seat.show_value(kept.seat.place if kept.seat is not None else None)
        self.old_back.show_value(kept.seat)
        self.old_knob.show_value(_place_at(kept.knob_mm))

    def _unfold(self) -> None:
        unfolded = self.fold.isChecked()
        self._typed.setVisible(unfolded)
        self.fold.setText(said.FOLD_OLD if unfolded else said.TYPE_OLD)

    # What is done.

    def _keep(self) -> None:
        notch = self._notch()
        if notch is not None:
            before = as_it_stands(self._scene(), notch)
            tried(self._desk, said.KEEP_ENTRY, lambda layout: edits.keep_before(layout, before))

    def _forget(self) -> None:
        tried(self._desk, said.FORGET_ENTRY, lambda layout: edits.keep_before(layout, Before()))

    def _kept(self) -> Before:
        """The old seat and knob as the fields show them: what was not kept stands as it does now."""
        notch = self._notch()
        stands = as_it_stands(self._scene(), notch) if notch is not None else Before()
        before = self._before()
        return Before(seat=before.seat or stands.seat, knob_mm=before.knob_mm or stands.knob_mm)

    def _commit_seat_place(self, name: str, value: object) -> str:
        changes: dict[str, Any] = {name: value}
        return self._commit_old(lambda seat: replace(seat, place=replace(seat.place, **changes)))

    def _commit_seat(self, name: str, value: object) -> str:
        changes: dict[str, Any] = {name: value}
        return self._commit_old(lambda seat: replace(seat, **changes))

    def _commit_old(self, change: Callable[[Seat], Seat]) -> str:
        kept = self._kept()

        def edit(layout: Layout) -> Layout:
            seat = change(kept.seat) if kept.seat is not None else None
            return edits.keep_before(layout, replace(kept, seat=seat))

        return tried(self._desk, said.OLD_ENTRY, edit)

    def _commit_knob(self, name: str, value: object) -> str:
        kept, changes = self._kept(), {name: float(str(value))}

        def edit(layout: Layout) -> Layout:
            place = replace(_place_at(kept.knob_mm), **changes)
            return edits.keep_before(layout, replace(kept, knob_mm=(place.x_mm, place.y_mm, place.z_mm)))

        return tried(self._desk, said.OLD_ENTRY, edit)


def _place_at(at_mm: Vector | None) -> Place:
    x, y, z = at_mm or (0.0, 0.0, 0.0)
    return Place(x_mm=x, y_mm=y, z_mm=z)
