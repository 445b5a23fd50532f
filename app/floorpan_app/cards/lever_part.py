"""What lever a wanted knob needs: where it shall be, what may change, and the answer, worked out beside the window."""

from dataclasses import dataclass

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from floorpan import edits
from floorpan.advice.lever_for_knob import LeverAnswer, lever_for_knob
from floorpan.advice.lever_freedom import LeverFreedom, usual_freedom
from floorpan.advice.lever_words import model_remarks
from floorpan.checks.lever import opening_limit
from floorpan.errors import FloorpanError
from floorpan.frames import Vector
from floorpan.items import Shifter, gate_table
from floorpan.layout import Layout
from floorpan.progress import Step, Work
from floorpan.report import lever_words as told_words
from floorpan.report.lever_told import (
    answer_text,
    margin_text,
    nearest_text,
    now_then_rows,
    opening_text,
    remark_texts,
)
from floorpan_app.cards import lever_words as said
from floorpan_app.cards.blocks import PartTitle, Rule, at_left, pressed, px, told
from floorpan_app.cards.lever_freedom_form import LeverFreedomForm
from floorpan_app.cards.now_then import NowThenTable
from floorpan_app.cards.places_form import PlacesForm
from floorpan_app.cards.tried import tried
from floorpan_app.desk import Desk
from floorpan_app.jobs import Job
from floorpan_app.theme.fonts import BODY, text_font
from floorpan_app.widgets.lettering import BOLDER

SETTLE_AFTER_MS = 300
_KNOB = "knob"


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """Everything the answer follows from."""

    shifter: Shifter
    target_mm: Vector
    free: LeverFreedom
    margin_mm: float | None

    def work(self) -> Work[LeverAnswer]:
        """One step: it is short, but too long for a drag."""
        yield Step(0.0, told_words.LEVER)
        return lever_for_knob(self.shifter, self.target_mm, self.free, margin_mm=self.margin_mm)


class LeverPart(QWidget):
    """A part of the controls card."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._shifter: Shifter | None = None
        self._made: tuple[Question, LeverAnswer] | None = None
        self._fault: tuple[Question, str] | None = None
        self._asked: Question | None = None
        self._job: Job | None = None
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(SETTLE_AFTER_MS)
        self._later.timeout.connect(self._work)
        self.place = PlacesForm(desk, ((_KNOB, said.KNOB),))
        self.place.typed.connect(self._typed)
        self.use_now = pressed(said.USE_NOW, self._use_now)
        self.forget = pressed(said.FORGET, self._forget, role="link")
        self.freedom = LeverFreedomForm(desk)
        self.freedom.changed.connect(self._ask)
        self._note = told(said.TARGET_NOTE, second=True)
        self._state, self._sentence, self._nearest = told(second=True), told(), told()
        self._sentence.setFont(text_font(BODY, BOLDER))
        self.table, self._lacks = NowThenTable(), told()
        self._small = told(second=True)
        self._caution = told(f"{told_words.CAUTION_LEAD}. {told_words.CAUTION}", second=True)
        self.build = pressed(said.BUILD, self._build)
        self._lay_out()
        desk.step_changed.connect(self._step_changed)

    def _lay_out(self) -> None:
        buttons = QHBoxLayout()
        buttons.addWidget(self.use_now)
        buttons.addWidget(self.forget)
        buttons.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        for piece in (Rule(), PartTitle(told_words.LEVER), told(said.TARGET), self.place):
            column.addWidget(piece)
        column.addLayout(buttons)
        for label in (self._note, self.freedom, self._state, self._sentence, self._nearest):
            column.addWidget(label)
        for below in (self.table, self._lacks, self._small, self._caution):
            column.addWidget(below)
        column.addLayout(at_left(self.build))

    def refresh(self, shifter: Shifter | None) -> None:
        """Bring it up to date for a shifter; an answer that no longer holds is worked out again."""
        if shifter is not None and self._is_other(shifter):
            self.freedom.show_free(usual_freedom(shifter))
        self._shifter = shifter
        self.setVisible(shifter is not None)
        self.place.show_place(_KNOB, self._desk.layout.knob_target_mm)
        if not self.place.is_typed(_KNOB):
            self.place.say("")
        self.freedom.refresh()
        self._ask()

    def follow(self, shifter: Shifter | None) -> None:
        """While something is dragged: an answer that no longer holds is marked so."""
        self._shifter = shifter
        self._show()

    def told(self) -> str:
        """What is said of an answer that is not there yet, no longer holds or cannot be had; "" where it holds."""
        return self._state.text()

    def said(self) -> tuple[str, str]:
        """The answer's sentence, and what brings the knob nearest where it is not met."""
        return self._sentence.text(), self._nearest.text()

    def lacks(self) -> str:
        """What the opening lacks for the new lever."""
        return self._lacks.text()

    def small(self) -> str:
        """The margin, what the model shows otherwise, and what is not usual."""
        return self._small.text()

    def answer(self) -> LeverAnswer | None:
        """The answer that holds for what is shown."""
        return self._made[1] if self._made is not None and self._made[0] == self._question() else None

    # What is shown.

    def _is_other(self, shifter: Shifter) -> bool:
        held = self._shifter
        return held is None or (held.id, held.family) != (shifter.id, shifter.family)

    def _question(self) -> Question | None:
        target = self._desk.layout.knob_target_mm
        if self._shifter is None or target is None:
            return None
        id = opening_limit(self._shifter)
        margin = next((change.value for change in self._desk.layout.limits if change.id == id), None)
        return Question(shifter=self._shifter, target_mm=target, free=self.freedom.free(), margin_mm=margin)

    def _show(self) -> None:
        asked, system = self._question(), self._desk.system
        self.forget.setVisible(asked is not None)
        self._note.setVisible(asked is None)
        self.freedom.setVisible(asked is not None)
        holds = self.answer() is not None
        self._say("" if holds or asked is None else self._why_not(asked))
        answer = self._made[1] if self._made is not None else None
        shown = answer is not None and asked is not None and (self._fault is None or self._fault[0] != asked)
        below = (self.table, self._lacks, self._small, self._caution, self.build)
        for widget in (self._sentence, self._nearest, *below):
            widget.setVisible(shown)
            widget.setEnabled(holds)
        if answer is None or not shown:
            return
        self._sentence.setText(answer_text(answer, system))
        nearest = nearest_text(answer, system)
        self._nearest.setText(nearest)
        self._nearest.setVisible(bool(nearest))
        self.table.show_rows(now_then_rows(answer, system))
        lacks = opening_text(answer, system)
        self._lacks.setText(lacks)
        self._lacks.setVisible(bool(lacks))
        small = (margin_text(answer, system), *model_remarks(answer, system))
        self._small.setText("\n".join((*small, *remark_texts(answer, system, unusual_only=True))))
        self.build.setEnabled(holds and answer.shifter != self._shifter)

    def _why_not(self, asked: Question) -> str:
        if self._fault is not None and self._fault[0] == asked:
            return self._fault[1]
        return said.STALE if self._desk.document.previewing else said.WORKING

    def _say(self, text: str) -> None:
        self._state.setText(text)
        self._state.setVisible(bool(text))

    # What is done.

    def _typed(self) -> None:
        try:
            target = self.place.place(_KNOB)
        except FloorpanError as fault:
            self.place.say("" if self._goes_on() else f"{fault.what} {fault.remedy}")
            return
        self.place.say(self._set(target, said.TARGET_ENTRY))

    def _goes_on(self) -> bool:
        """Whether the hand is on its way to the next length of the place, which is still empty."""
        fields = self.place.fields[_KNOB]
        return any(field.hasFocus() and not field.text().strip() for field in fields)

    def _use_now(self) -> None:
        if self._shifter is not None:
            x, y, z = gate_table(self._shifter)[0].knob_mm
            self._set((round(x, 1), round(y, 1), round(z, 1)), said.TARGET_ENTRY)

    def _forget(self) -> None:
        self._set(None, said.FORGET_ENTRY)

    def _set(self, target: Vector | None, entry: str) -> str:
        if target == self._desk.document.adopted.knob_target_mm:
            return ""
        return tried(self._desk, entry, lambda layout: edits.set_knob_target(layout, target))

    def _build(self) -> None:
        answer = self.answer()
        if answer is None:
            return

        def edit(layout: Layout) -> Layout:
            return edits.adopt_lever(layout, answer.shifter)

        fault = tried(self._desk, said.BUILD_ENTRY, edit)
        if fault:
            self._say(fault)

    # Working it out.

    def _ask(self) -> None:
        asked = self._question()
        if asked is None or self.answer() is not None:
            self._stop()
        elif self._asked != asked and self._desk.step == "controls":
            self._stop()
            self._asked = asked
            self._later.start()
        self._show()

    def _work(self) -> None:
        asked = self._question()
        if asked is None or self._desk.step != "controls" or self._desk.document.previewing:
            self._asked = None
            return
        self._asked = asked
        job = self._job = Job(told_words.LEVER, asked.work, self)
        job.succeeded.connect(lambda answer: self._take(job, asked, answer))
        job.failed.connect(lambda fault: self._fail(job, asked, fault))
        job.ended.connect(job.deleteLater)
        self._desk.judging.threads.run(job)

    def _take(self, job: Job, asked: Question, answer: LeverAnswer) -> None:
        if job is self._job:
            self._job, self._asked = None, None
            self._made = (asked, answer)
            self._show()

    def _fail(self, job: Job, asked: Question, fault: Exception) -> None:
        if job is not self._job:
            return
        self._job, self._asked = None, None
        self._fault = (
            asked,
            f"{fault.what} {fault.remedy}" if isinstance(fault, FloorpanError) else str(fault),
        )
        self._show()
        if not isinstance(fault, FloorpanError):
            self._desk.judging.failed.emit(fault)

    def _step_changed(self, step: str) -> None:
        if step != "controls":
            self._stop()

    def _stop(self) -> None:
        self._later.stop()
        self._asked = None
        if self._job is not None:
            self._job.cancel()
            self._job = None
