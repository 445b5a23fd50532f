"""Who else reaches: men, women and a mix of them, counted beside the window once the layout is left alone."""

from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from floorpan import edits
from floorpan.derive import PopulationReach, Scene, population_reach
from floorpan.driver.population import mixed
from floorpan.errors import FloorpanError
from floorpan.items import Shifter
from floorpan.layout import Layout
from floorpan.progress import Step
from floorpan.report import driver_words as told_words
from floorpan.report.driver_told import counted_text, share_rows, who_text
from floorpan.report.naming import capital
from floorpan_app.cards import driver_words as said
from floorpan_app.cards.blocks import PartTitle, Rule, px, told
from floorpan_app.cards.form import Form
from floorpan_app.cards.tried import tried
from floorpan_app.desk import Desk
from floorpan_app.jobs import Job
from floorpan_app.theme.fonts import BODY, SECOND, text_font
from floorpan_app.widgets.lettering import BOLDER

SETTLE_AFTER_MS = 400
_WHO = (told_words.COL_MEN, told_words.COL_WOMEN, told_words.COL_MIX)


class PopulationPart(QWidget):
    """A part of the driver's card."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._made: tuple[object, PopulationReach] | None = None
        self._seen: PopulationReach | None = None
        self._job: Job | None = None
        self._asked: object = None
        self._done = 0.0
        self._fault: tuple[object, str] | None = None
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(SETTLE_AFTER_MS)
        self._later.timeout.connect(self._count)
        self.mix = Form(desk, Layout, ("men_percent",), self._commit)
        self._who = told()
        self.table = ShareTable()
        self._state = told(second=True)
        self._counted = told(second=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        title = PartTitle(told_words.WHO_ELSE, said.BELTS_TIGHT)
        for widget in (Rule(), title, self.mix, self._who, self.table, self._state, self._counted):
            column.addWidget(widget)
        desk.step_changed.connect(self._step_changed)

    def refresh(self) -> None:
        """Bring it up to date with the layout; what does not follow from it is counted again."""
        layout = self._desk.layout
        self.setVisible(layout.driver() is not None)
        self.mix.show_value(layout)
        key = _made_from(layout)
        if key is None or self._is_made(key):
            self._stop()
        elif self._asked != key and self._desk.step == "driver":
            self._stop()
            self._asked = key
            self._later.start()
        self._show()

    def follow(self) -> None:
        """While something is dragged: figures that no longer hold are marked so."""
        self._show()

    def told(self) -> str:
        """What is said of figures that are not there yet or no longer hold; "" where they hold."""
        return self._state.text()

    def said(self) -> tuple[str, str]:
        """What the shares are of, and where the bodies come from."""
        return self._who.text(), self._counted.text()

    def found(self) -> PopulationReach | None:
        """The figures that are shown, for the mix as it is now."""
        if self._made is None:
            return None
        found, percent = self._made[1], self._desk.layout.men_percent
        if percent == found.men_percent:
            return found
        return replace(found, men_percent=percent, mix=mixed(found.men, found.women, percent / 100.0))

    # What is shown.

    def _is_made(self, key: object) -> bool:
        return self._made is not None and self._made[0] == key

    def _show(self) -> None:
        key, found = _made_from(self._desk.layout), self.found()
        holds = key is not None and self._is_made(key)
        self._say("" if holds else self._why_not(key))
        shown = found is not None and key is not None
        for widget in (self._who, self.table, self._counted):
            widget.setVisible(shown)
        self.table.setEnabled(holds)
        if found is not None and shown and found != self._seen:
            self._seen = found
            self._who.setText(who_text(found))
            self._counted.setText(counted_text(found))
            self.table.show_rows(share_rows(found))

    def _why_not(self, key: object) -> str:
        """Why there are no figures for what is shown."""
        if key is None:
            return said.WHO_NEEDS
        if self._fault is not None and self._fault[0] == key:
            return self._fault[1]
        if self._made is None:
            return said.COUNTING.format(percent=f"{100.0 * self._done:.0f}")
        if self._desk.document.previewing:
            return said.STALE
        return said.COUNTING_AGAIN.format(percent=f"{100.0 * self._done:.0f}")

    def _say(self, text: str) -> None:
        self._state.setText(text)
        self._state.setVisible(bool(text))

    # What is done.

    def _commit(self, name: str, value: object) -> str:
        percent = float(str(value))
        return tried(self._desk, said.MIX_ENTRY, lambda layout: edits.set_mix(layout, percent))

    def _count(self) -> None:
        layout = self._desk.document.adopted
        key = _made_from(layout)
        if key is None or self._desk.step != "driver" or self._desk.document.previewing:
            self._asked = None
            return
        self._asked = key
        # Nothing of a scene but the layout is asked, so that nothing is shared with the live view.
        scene = Scene(layout=layout, floors=(), memory=self._desk.judging.bench.memory)
        job = self._job = Job(told_words.WHO_ELSE, lambda: population_reach(scene), self)
        job.progressed.connect(lambda step: self._tell(job, step))
        job.succeeded.connect(lambda found: self._take(job, key, found))
        job.failed.connect(lambda fault: self._fail(job, key, fault))
        job.ended.connect(job.deleteLater)
        self._desk.judging.threads.run(job)

    def _tell(self, job: Job, step: Step) -> None:
        if job is self._job:
            self._done = step.done
            self._show()

    def _take(self, job: Job, key: object, found: PopulationReach | None) -> None:
        if job is not self._job:
            return
        self._job, self._asked = None, None
        self._made = (key, found) if found is not None else None
        self._show()

    def _fail(self, job: Job, key: object, fault: Exception) -> None:
        if job is not self._job:
            return
        self._job = None
        self._fault = (key, str(fault))
        self._show()
        if not isinstance(fault, FloorpanError):
            self._desk.judging.failed.emit(fault)

    def _step_changed(self, step: str) -> None:
        if step != "driver":
            self._stop()

    def _stop(self) -> None:
        self._later.stop()
        self._asked, self._done = None, 0.0
        if self._job is not None:
            self._job.cancel()
            self._job = None


class ShareTable(QWidget):
    """Gears in rows, men, women and the mix in columns."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(px(8))
        self._grid.setVerticalSpacing(px(3))
        self._grid.setColumnStretch(0, 1)
        for column, title in enumerate(("", *_WHO)):
            head = self._cell(0, column)
            head.setText(title)
            head.setProperty("role", "second")
        self._rows: list[list[QLabel]] = []

    def show_rows(self, rows: Sequence[tuple[str, Sequence[str]]]) -> None:
        """Show these; the last stands out."""
        while len(self._rows) < len(rows):
            place = len(self._rows) + 1
            self._rows.append([self._cell(place, column) for column in range(len(_WHO) + 1)])
        for place, labels in enumerate(self._rows):
            for label in labels:
                label.setVisible(place < len(rows))
            if place < len(rows):
                self._show_row(labels, *rows[place], last=place == len(rows) - 1)

    def texts(self) -> list[list[str]]:
        """What stands in the rows that are shown."""
        return [[label.text() for label in labels] for labels in self._rows if not labels[0].isHidden()]

    def cells(self, row: int) -> list[QLabel]:
        """The pieces of a row, its name first."""
        return self._rows[row]

    def _show_row(self, labels: list[QLabel], gear: str, shares: Sequence[str], *, last: bool) -> None:
        labels[0].setText(capital(gear))
        for label, share, who in zip(labels[1:], shares, _WHO, strict=True):
            label.setText(share)
            spoken = said.SHARE_SPOKEN.format(gear=capital(gear), who=who.partition(",")[0], share=share)
            label.setAccessibleName(spoken)
        for column, label in enumerate(labels):
            size = SECOND if column else BODY
            label.setFont(text_font(size, BOLDER) if last else text_font(size))

    def _cell(self, row: int, column: int) -> QLabel:
        label = QLabel(self)
        label.setFont(text_font(SECOND if column or not row else BODY))
        side = Qt.AlignmentFlag.AlignRight if column else Qt.AlignmentFlag.AlignLeft
        self._grid.addWidget(label, row, column, side)
        return label


def _made_from(layout: Layout) -> object:
    """Everything the counting follows from, compared by value; None where there is nothing to count."""
    person = layout.driver()
    seat = next((one for one in layout.seats if person is not None and one.id == person.seat_id), None)
    shifter = next(iter(layout.of(Shifter)), None)
    if person is None or seat is None or shifter is None:
        return None
    return seat, tuple(sorted(person.notches_used)), shifter, layout.driver_side
