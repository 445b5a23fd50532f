"""Where the knob should be: looked for beside the window when it is asked, told, seen, and done."""

from dataclasses import dataclass

from PySide6.QtCore import QCoreApplication, QEvent
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QVBoxLayout, QWidget

from floorpan import edits
from floorpan.advice.knob_costs import Worse, worse_there
from floorpan.advice.knob_for_driver import KnobAdvice, where_the_knob_should_be
from floorpan.checks import Finding
from floorpan.derive import Bench, Scene
from floorpan.derive.memory import Memory
from floorpan.errors import FloorpanError
from floorpan.items import Shifter
from floorpan.layout import Layout
from floorpan.progress import Step, Work, part
from floorpan.report import knob_words as told_words
from floorpan.report.knob_told import (
    SideRow,
    answer_text,
    note_text,
    now_text,
    side_rows,
    told_sides,
    worse_text,
)
from floorpan.report.naming import capital
from floorpan_app.cards import knob_words as said
from floorpan_app.cards.blocks import PartTitle, Rule, pressed, px, show_all, told
from floorpan_app.cards.rows import Row, Rows
from floorpan_app.cards.tried import tried
from floorpan_app.desk import Desk
from floorpan_app.jobs import Job
from floorpan_app.theme.fonts import BODY, text_font
from floorpan_app.widgets.lettering import BOLDER

# Preparing a scan that nobody prepared yet takes longer than all the rest.
_PREPARED = 0.5
_LOOKED = 0.8


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Found:
    """An answer, what of the layout it follows from, and what gets worse there in the layout looked at."""

    key: object
    advice: KnobAdvice
    worse: tuple[Worse, ...]
    layout: Layout


class KnobPart(QWidget):
    """A part of the driver's card."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._made: _Found | None = None
        self._job: Job | None = None
        self._done = 0.0
        self._say_why = ""
        self.look = pressed(said.FIND, self._find)
        self.stop = pressed(said.STOP, self._stop_asked, role="link")
        self._state, self._sentence, self._now = told(second=True), told(), told(second=True)
        self._worse = told(second=True)
        self._sentence.setFont(text_font(BODY, BOLDER))
        self._sides = PartTitle(said.SIDES, said.SIDES_HEAD)
        self.rows = Rows(said.SIDES)
        self.rows.row_chosen.connect(self._choose)
        self._note = told(second=True)
        self.seen = QCheckBox(said.SHOW)
        self.seen.setChecked(True)
        self.seen.clicked.connect(desk.knob.show)
        self.target = pressed(said.TARGET, self._set_target)
        self.move_there = pressed(said.MOVE, self._move)
        self.move_there.setToolTip(said.MOVE_NOTE)
        self._lay_out()
        desk.document.layout_changed.connect(self._layout_changed)

    def _lay_out(self) -> None:
        buttons = QHBoxLayout()
        buttons.addWidget(self.look)
        buttons.addWidget(self.stop)
        buttons.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        title = PartTitle(told_words.KNOB, said.BELTS_TIGHT)
        above: tuple[QWidget, ...] = (Rule(), title, self._sentence, self._now, self._worse, self._state)
        below: tuple[QWidget, ...] = (self.seen, self._sides, self.rows)
        for piece in above:
            column.addWidget(piece)
        column.addLayout(buttons)
        for piece in (*below, self.target, self.move_there, self._note):
            column.addWidget(piece)

    def refresh(self) -> None:
        """Bring it up to date with the layout; an answer that no longer holds is put away."""
        layout = self._desk.layout
        self.setVisible(layout.driver() is not None)
        key = _made_from(layout)
        if not self._desk.document.previewing and self._made is not None and self._made.key != key:
            self._made = None
            self._say_why = said.CHANGED
            self._desk.knob.lay(None)
        self._show()

    def follow(self) -> None:
        """While something is dragged: an answer that no longer holds is marked so."""
        self._show()

    def told(self) -> tuple[str, str]:
        """What to do, and what is wrong where the knob is."""
        return self._sentence.text(), self._now.text()

    def state(self) -> str:
        """What is said of an answer that is not there or no longer holds; "" where it holds."""
        return self._state.text()

    def note(self) -> str:
        """For whom the answer holds, and where it was looked for."""
        return self._note.text()

    def answer(self) -> KnobAdvice | None:
        """The answer that holds for what is shown."""
        made = self._made
        return made.advice if made is not None and made.key == _made_from(self._desk.layout) else None

    def worse(self) -> str:
        """What gets worse where the knob should be, "" where it stays."""
        return self._worse.text()

    # What is shown.

    def _show(self) -> None:
        advice = self._made.advice if self._made is not None else None
        holds, looking = self.answer() is not None, self._job is not None
        self._say("" if holds and not looking else self._why_not())
        self.look.setText(said.FIND if advice is None else said.FIND_AGAIN)
        self.look.setEnabled(not looking and _made_from(self._desk.layout) is not None)
        self.look.setVisible(not holds or looking or not self._worse_holds())
        self.stop.setVisible(looking)
        pieces = (self._sentence, self._now, self._worse, self._note, self.seen, self.target, self.move_there)
        show_all(advice is not None, *pieces, self._sides)
        for piece in (*pieces, self.rows):
            piece.setEnabled(holds)
        if advice is None:
            self.rows.show_rows(())
            self._sentence.setText("")
            self._now.setText("")
            self._say_worse("")
            return
        self._show_answer(advice)

    def _show_answer(self, advice: KnobAdvice) -> None:
        layout, system = self._desk.layout, self._desk.system
        self._sentence.setText(answer_text(advice, layout, system))
        now = now_text(advice, system)
        self._now.setText(now)
        self._now.setVisible(bool(now))
        self._say_worse(self._worse_text(advice))
        self._note.setText(note_text(advice, system))
        rows = [
            Row(
                id=side.name,
                title=capital(row.what),
                second=_where(row),
                value=said.SHARE.format(n=row.share),
            )
            for side, row in zip(told_sides(advice), side_rows(advice, layout, system), strict=True)
        ]
        self.rows.show_rows(rows, self._desk.knob.side)
        self._sides.setVisible(bool(rows))
        is_target = layout.knob_target_mm == _rounded(advice)
        self.target.setText(said.IS_TARGET if is_target else said.TARGET)
        self.target.setEnabled(self.target.isEnabled() and not is_target)
        self.move_there.setEnabled(self.move_there.isEnabled() and advice.by_mm != (0.0, 0.0, 0.0))

    def _worse_text(self, advice: KnobAdvice) -> str:
        if self._made is None or not self._worse_holds():
            return said.WORSE_CHANGED
        return worse_text(advice, self._made.worse, self._desk.layout, self._desk.system)

    def _worse_holds(self) -> bool:
        """Whether nothing that takes part in gaps was changed since; what is dragged is not changed yet."""
        made, adopted = self._made, self._desk.document.adopted
        if made is None or made.layout is adopted or made.advice.by_mm == (0.0, 0.0, 0.0):
            return True
        return _judged_on(made.layout) == _judged_on(adopted)

    def _say_worse(self, text: str) -> None:
        self._worse.setText(text)
        self._worse.setVisible(bool(text))

    def _why_not(self) -> str:
        if self._job is not None:
            return said.LOOKING.format(percent=f"{100.0 * self._done:.0f}")
        if _made_from(self._desk.layout) is None:
            return said.NEEDS
        if self._made is not None:
            return said.STALE
        return self._say_why or said.BEFORE

    def _say(self, text: str) -> None:
        self._state.setText(text)
        self._state.setVisible(bool(text))

    # What is done.

    def _choose(self, side: str) -> None:
        self._desk.knob.choose("" if side == self._desk.knob.side else side)
        self._show()

    def _set_target(self) -> None:
        advice = self.answer()
        if advice is not None:
            place = _rounded(advice)
            fault = tried(self._desk, said.TARGET_ENTRY, lambda layout: edits.set_knob_target(layout, place))
            if fault:
                self._say(fault)

    def _move(self) -> None:
        advice, shifter = self.answer(), next(iter(self._desk.layout.of(Shifter)), None)
        if advice is None or shifter is None:
            return
        entry = said.MOVE_ENTRY.format(name=shifter.name)
        fault = tried(self._desk, entry, lambda layout: edits.shift(layout, shifter.id, advice.by_mm))
        if fault:
            self._say(fault)
        else:
            # Whoever moved it there wants to know how it stands now.
            self._find()

    # Looking for it.

    def _find(self) -> None:
        layout = self._desk.document.adopted
        key = _made_from(layout)
        if key is None or self._desk.document.previewing:
            return
        self._drop_job()
        self._say_why = ""
        judging = self._desk.judging
        bench, findings = judging.bench, judging.findings if judging.fresh else ()
        job = self._job = Job(told_words.KNOB, lambda: _work(bench, layout, findings), self)
        job.progressed.connect(lambda step: self._tell(job, step))
        job.succeeded.connect(lambda found: self._take(job, found))
        job.failed.connect(lambda fault: self._fail(job, fault))
        job.cancelled.connect(lambda: self._stopped(job))
        job.ended.connect(job.deleteLater)
        self._desk.judging.threads.run(job)
        self._desk.judging.working.emit(job)
        self._show()

    def _tell(self, job: Job, step: Step) -> None:
        if job is self._job:
            self._done = step.done
            self._show()

    def _take(self, job: Job, found: _Found | None) -> None:
        if job is not self._job:
            return
        self._end()
        self._made = found
        self._show()
        # The picture takes its time, and paints the card on the way: not before that has grown to its new height.
        QCoreApplication.sendPostedEvents(None, QEvent.Type.LayoutRequest.value)
        self._desk.knob.lay(found.advice if found is not None else None)

    def _fail(self, job: Job, fault: Exception) -> None:
        if job is not self._job:
            return
        self._end()
        self._say_why = f"{fault.what} {fault.remedy}" if isinstance(fault, FloorpanError) else str(fault)
        self._show()
        if not isinstance(fault, FloorpanError):
            self._desk.judging.failed.emit(fault)

    def _stopped(self, job: Job) -> None:
        if job is self._job:
            self._end()
            self._say_why = said.STOPPED
            self._show()

    def _stop_asked(self) -> None:
        if self._job is not None:
            self._job.cancel()

    def _layout_changed(self, before: Layout, after: Layout) -> None:
        if self._desk.document.previewing:
            return
        if self._job is not None and _made_from(before) != _made_from(after):
            self._drop_job()
            self._say_why = said.CHANGED
        self.refresh()

    def _drop_job(self) -> None:
        if self._job is not None:
            self._job.cancel()
            self._end()

    def _end(self) -> None:
        self._job, self._done = None, 0.0


def _work(bench: Bench, layout: Layout, findings: tuple[Finding, ...]) -> Work[_Found | None]:
    yield from part(bench.make_floors(layout), 0.0, _PREPARED)
    # A memory of its own: nothing is shared with the live view but the scan, which nobody changes.
    scene = Scene(layout=layout, floors=bench.scene(layout).floors, memory=Memory())
    advice = yield from part(where_the_knob_should_be(scene), _PREPARED, _LOOKED)
    if advice is None:
        return None
    worse = yield from part(worse_there(scene, advice.by_mm, findings), _LOOKED, 1.0)
    return _Found(key=_made_from(layout), advice=advice, worse=worse, layout=layout)


def _where(row: SideRow) -> str:
    """On which side and in which gear; where nobody looked, how far off and on which sides."""
    first, then = (row.side, row.detail) if row.limits else (row.detail, row.side)
    return f"{capital(first)}: {then}"


def _rounded(advice: KnobAdvice) -> tuple[float, float, float]:
    x, y, z = (round(value, 1) for value in advice.place_mm)
    return x, y, z


def _made_from(layout: Layout) -> object:
    """Everything the answer follows from, compared by value; None where there is nothing to find."""
    shifter = next(iter(layout.of(Shifter)), None)
    drivers = tuple(person for person in layout.people if person.role == "driver")
    if shifter is None or not drivers:
        return None
    things = tuple(thing.id for thing in layout.things())
    about = (layout.driver_side, layout.driving_position, layout.limits, layout.scans)
    return drivers, layout.seats, shifter, things, *about


def _judged_on(layout: Layout) -> object:
    """Everything that gaps follow from, compared by value."""
    stand = (tuple(layout.things()), layout.people, layout.driving_position, layout.driver_side)
    return *stand, layout.limits, layout.scans, layout.carpet()
