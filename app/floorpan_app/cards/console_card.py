"""Console: the room it takes, by a few stations."""

from dataclasses import replace

from PySide6.QtWidgets import QGridLayout, QWidget

from floorpan import edits
from floorpan.console import Envelope, Station
from floorpan.errors import BadValue, FloorpanError
from floorpan.layout import Step
from floorpan.units import parse_length, show_length
from floorpan_app.cards import words
from floorpan_app.cards.card import Card, heading, pressed, told
from floorpan_app.cards.thing_form import ThingForm
from floorpan_app.widgets.length_field import LengthField

_COLUMNS = (("x_mm", "station"), ("width_mm", "width"), ("height_mm", "height"))


class ConsoleCard(Card):
    """The first console envelope: its place and its stations."""

    step: Step = "console"

    def build(self) -> None:
        self.body.addWidget(told(words.CONSOLE_LATER, second=True))
        self._put = pressed("Place a console", lambda: self.desk.use_tool("place console"), icon="place")
        self.body.addWidget(self._put)
        self._form = ThingForm(self.desk, ("name", "wall_mm"))
        self.body.addWidget(self._form)
        self.body.addWidget(heading("Stations"))
        self._table = QWidget()
        self._grid = QGridLayout(self._table)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self.body.addWidget(self._table)
        self._add = pressed("Add a station at the rear", self.add_station)
        self._less = pressed("Take the last one out", self.take_last)
        self.body.addWidget(self._add)
        self.body.addWidget(self._less)

    def refresh(self) -> None:
        console = self._console()
        self._form.show_thing(console)
        self._put.setVisible(console is None)
        for button in (self._add, self._less):
            button.setEnabled(console is not None)
        while (item := self._grid.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        if console is None:
            return
        for column, (_, title) in enumerate(_COLUMNS):
            self._grid.addWidget(told(title, second=True), 0, column)
        system = self.desk.system
        for row, station in enumerate(console.stations):
            for column, (name, title) in enumerate(_COLUMNS):
                field = LengthField(
                    lambda text: parse_length(text, self.desk.system),
                    lambda mm: show_length(mm, self.desk.system),
                    value_mm=getattr(station, name),
                    name=f"{title} {row + 1}, {system}",
                    faults=(FloorpanError,),
                )
                field.valueChosen.connect(lambda mm, row=row, name=name: self._station(row, name, mm))
                self._grid.addWidget(field, row + 1, column)

    def add_station(self) -> None:
        """One station more, 100 mm behind the last and as large."""
        console = self._console()
        if console is not None:
            last = console.stations[-1]
            self._stations((*console.stations, replace(last, x_mm=last.x_mm + 100.0)))

    def take_last(self) -> None:
        """One station less."""
        console = self._console()
        if console is not None:
            self._stations(console.stations[:-1])

    def _station(self, row: int, name: str, mm: float) -> None:
        console = self._console()
        if console is None:
            return
        try:
            changed = replace(console.stations[row], **{name: mm})
        except BadValue as fault:
            self.desk.faulted.emit(fault)
            self.refresh()
            return
        self._stations(tuple(changed if k == row else s for k, s in enumerate(console.stations)))

    def _stations(self, stations: tuple[Station, ...]) -> None:
        console = self._console()
        if console is not None and not self.desk.change(
            "Shape the console", lambda layout: edits.change(layout, console.id, stations=stations)
        ):
            self.refresh()

    def _console(self) -> Envelope | None:
        return next(iter(self.desk.layout.consoles), None)
