"""Console: the room it takes, by a few stations."""

from dataclasses import replace

from floorpan import edits
from floorpan.console import Envelope, Station
from floorpan.layout import Step
from floorpan.units import show_length
from floorpan_app.cards import words
from floorpan_app.cards.blocks import PartTitle, Rule, pressed, show_all, told
from floorpan_app.cards.card import Card, Need
from floorpan_app.cards.measure_table import MeasureTable
from floorpan_app.cards.scans import need_axes
from floorpan_app.cards.setting_down import offers
from floorpan_app.cards.thing_form import ThingForm
from floorpan_app.cards.tried import tried

_STEP_MM = 100.0
_FEWEST, _MOST = 2, 12


class ConsoleCard(Card):
    """The console in hand, else the first one."""

    step: Step = "console"

    def build(self) -> None:
        self.add(told(words.CONSOLE_LATER, second=True))
        self._title, self._note = PartTitle(words.STATIONS), told(words.STATIONS_NOTE, second=True)
        self.table = MeasureTable(
            self.desk,
            Station,
            words.STATION_COLUMNS,
            self._set_stations,
            named=self._named,
            fewest=_FEWEST,
        )
        self.one_more = pressed(words.ADD_STATION, self.add_station, icon="add")
        self._rule = Rule()
        self.form = ThingForm(self.desk, Envelope, ("name", "wall_mm"), ("stands_on",))
        self.add(self._title, self._note, self.table, self.one_more, self._rule, self.form)

    def need(self) -> Need | None:
        need = need_axes(self.desk)
        if need is None and not self.desk.layout.consoles:
            return Need(told=words.NEED_CONSOLE, offers=offers(self.desk, "console", "piece"))
        return need

    def lacks(self) -> str:
        return "" if self.desk.layout.consoles else words.NEED_CONSOLE

    def refresh(self) -> None:
        self.form.show_things(self.desk.layout.consoles)
        console = self._console()
        show_all(console is not None, self._title, self._note, self.one_more, self._rule)
        self._title.show_second(words.STATION_UNITS.format(unit=self.desk.system))
        if console is not None:
            self.table.show_values(console.stations, console.id)
        else:
            self.table.show_values(())
        self.one_more.setEnabled(console is not None and len(console.stations) < _MOST)

    def follow(self) -> None:
        console = self._console()
        if console is not None:
            self.form.follow(console)

    def add_station(self) -> None:
        """One station more, behind the last and as large."""
        console = self._console()
        if console is not None:
            last = console.stations[-1]
            self.table.say(self._set_stations((*console.stations, replace(last, x_mm=last.x_mm + _STEP_MM))))

    def _named(self, station: Station) -> str:
        return words.STATION.format(n=show_length(station.x_mm, self.desk.system))

    def _console(self) -> Envelope | None:
        consoles = self.desk.layout.consoles
        held = [one for one in consoles if one.id == self.desk.selection] or list(consoles)
        return held[0] if held else None

    def _set_stations(self, stations: tuple[Station, ...]) -> str:
        console = self._console()
        if console is None:
            return ""
        entry = words.CHANGE_ENTRY.format(name=console.name)
        return tried(self.desk, entry, lambda layout: edits.change(layout, console.id, stations=stations))
