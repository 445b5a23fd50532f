"""Keeping findings beside the document: live while something is dragged, settled after it is let go.

A long preparation (a new scan, new axes) runs in a worker; everything else in slices of the window's own thread,
since it shares its memory with the live view. An answer for a layout that is no longer shown is dropped.
"""

import gc
import time
from collections import OrderedDict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace

from PySide6.QtCore import QObject, QTimer, Signal

from floorpan.advice import with_cures
from floorpan.checks import Evaluator, Finding
from floorpan.derive import Bench
from floorpan.items.states import State
from floorpan.layout import Layout
from floorpan.progress import Work, part
from floorpan.scan import RawScan
from floorpan_app.document import Document
from floorpan_app.jobs import Job, SliceLane, ThreadLane

# Of the 16 ms of a mouse step; the rest goes to finding out what changed, to bodies, marks and the picture.
LIVE_S = 0.008
SETTLE_AFTER_MS = 120
# While the mouse rests in a drag there is time for the rest, slice by slice.
RESTS_AFTER_MS = 30
RESTING_S = 0.012

_LAYOUTS_KEPT = 16

LookedAt = Callable[[State], bool]


class Judging(QObject):
    """Findings of what the document shows.

    findings_changed(findings) : worst first; some may be stale
    settled(findings)          : all fresh, for the adopted layout
    working(job)               : a job that the status line may show
    failed(exception)          : judging broke off
    scans_ready()              : scans were made ready by somebody else, for the picture
    """

    findings_changed = Signal(object)
    settled = Signal(object)
    working = Signal(object)
    failed = Signal(object)
    scans_ready = Signal()

    def __init__(
        self, document: Document, store: Mapping[str, RawScan], parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self.document = document
        self.threads = ThreadLane(self)
        self._slices = SliceLane(self)
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(SETTLE_AFTER_MS)
        self._later.timeout.connect(self._settle)
        self._resting = QTimer(self)
        self._resting.setSingleShot(True)
        self._resting.setInterval(RESTS_AFTER_MS)
        self._resting.timeout.connect(self._rest)
        # Whoever shows a state may say which are looked at: they are judged first while something is dragged.
        self.looked_at: LookedAt | None = None
        # And of which others the smallest gap is told too: they are measured while the mouse rests.
        self.also_looked_at: tuple[LookedAt, ...] = ()
        self._look = 0
        self._moving = False
        self.findings: tuple[Finding, ...] = ()
        self.fresh = False
        self._preparing: Layout | None = None
        self.use(store)
        document.layout_changed.connect(self._changed)

    def use(self, store: Mapping[str, RawScan]) -> None:
        """Judge with another store of scans; nothing is remembered from the one before."""
        self._slices.stop()
        self._resting.stop()
        self._closed = False
        self.bench = Bench(store)
        self._evaluator = Evaluator(self.bench)
        self._preparing = None
        self.findings, self.fresh = (), False
        self._cured = _Cured()
        self._later.start()

    def again(self) -> None:
        """Judge what is adopted once more, as after it was stopped."""
        self._slices.stop()
        self.fresh = False
        self._later.start()

    def is_at_it(self) -> bool:
        """Whether something is being worked out, or soon will be."""
        return self._later.isActive() or self._slices.busy or self.threads.busy

    def close(self) -> None:
        """Stop all work; what a worker still has to tell begins nothing new."""
        self._closed = True
        self._hold_collecting(False)
        self._later.stop()
        self._resting.stop()
        self._slices.stop()
        self.threads.stop_all()
        self.threads.wait()

    def _changed(self, _before: object, _after: object) -> None:
        self._slices.stop()
        self.fresh = False
        self._look = 0
        self._hold_collecting(self.document.previewing)
        self._live()
        if self.document.previewing:
            self._resting.start()
        else:
            self._resting.stop()
            self._later.start()

    def _hold_collecting(self, moving: bool) -> None:
        """Looking through all that is held for what nobody holds takes a tenth of a second: not while a mouse moves."""
        if moving is not self._moving:
            self._moving = moving
            (gc.freeze if moving else gc.unfreeze)()

    def _live(self) -> None:
        self._tell(self._known(LIVE_S, self.looked_at))

    def _rest(self) -> None:
        """What found no time while the mouse moved, then the smallest gap of what else is told, until all is known."""
        looks = (self.looked_at, *self.also_looked_at)
        if not self.document.previewing or self._closed or self._look >= len(looks):
            return
        found = self._known(RESTING_S, looks[self._look])
        if _measured(found) > _measured(self.findings):
            self._tell(found)
        else:
            self._look += 1
        self._resting.start()

    def _known(self, budget_s: float, looked_at: LookedAt | None) -> tuple[Finding, ...]:
        # A few of many tell nothing of a car that nobody has judged yet, least of all that it is clear.
        if not self._evaluator.has_settled:
            return ()
        return self._evaluator.live(
            self.document.layout, budget_s=budget_s, clock=time.perf_counter, looked_at=looked_at
        )

    def _tell(self, found: tuple[Finding, ...]) -> None:
        self.findings = found
        self.findings_changed.emit(found)

    def _settle(self) -> None:
        layout = self.document.adopted
        if self.document.previewing or self._closed:
            return
        if not self.bench.floors_ready(layout):
            self._prepare(layout)
            return
        job = Job("Checking every state", lambda: self._judged(layout), self)
        job.succeeded.connect(lambda found: self._settled(layout, found))
        job.failed.connect(self._broke_off)
        job.cancelled.connect(lambda: self._out_of_date(layout))
        job.ended.connect(job.deleteLater)
        self._slices.run(job)
        self.working.emit(job)

    def _broke_off(self, fault: object) -> None:
        """What is told is of no layout that is shown."""
        self._out_of_date(self.document.adopted)
        self.failed.emit(fault)

    def _out_of_date(self, layout: Layout) -> None:
        """Mark all that is told, where nothing else is on its way to be told of that layout."""
        if layout is self.document.adopted and not self.fresh and not self._closed:
            self._tell(tuple(replace(finding, stale=True) for finding in self.findings))

    def _judged(self, layout: Layout) -> Work[tuple[Finding, ...]]:
        """Every finding, then what would clear the worst of them."""
        found = yield from part(self._evaluator.settle(layout), 0.0, 0.9)
        # Undo and redo come back to the very same layout, and what clears it was found already.
        if (kept := self._cured.get(layout)) is not None:
            return kept
        # What would clear them takes longer than they do, and nobody should look at old ones meanwhile.
        self._tell(found)
        cured = yield from part(with_cures(found, layout, self._evaluator), 0.9, 1.0)
        self._cured.keep(layout, cured)
        return cured

    def _settled(self, layout: Layout, found: tuple[Finding, ...]) -> None:
        if layout is not self.document.adopted or self.document.previewing or self._closed:
            return
        self.findings, self.fresh = found, True
        self.findings_changed.emit(found)
        self.settled.emit(found)
        job = Job("Making the scan ready", lambda: self._evaluator.make_ready(layout), self)
        job.failed.connect(self.failed.emit)
        job.ended.connect(job.deleteLater)
        self._slices.run(job)

    def _prepare(self, layout: Layout) -> None:
        if self._preparing is layout:
            return
        self._preparing = layout
        bench = self.bench

        job = Job("Making the scan ready", lambda: bench.make_floors(layout), self)
        job.succeeded.connect(lambda _: self._prepared(layout))
        job.failed.connect(self._prepare_failed)
        job.cancelled.connect(lambda: self._forget(layout))
        job.ended.connect(job.deleteLater)
        self.threads.run(job)
        self.working.emit(job)

    def _prepared(self, layout: Layout) -> None:
        self._forget(layout)
        if self._closed:
            return
        self._live()
        self._later.start()

    def _prepare_failed(self, fault: object) -> None:
        self._preparing = None
        self.failed.emit(fault)

    def _forget(self, layout: Layout) -> None:
        if self._preparing is layout:
            self._preparing = None


class _Cured:
    """The findings of the last few layouts with what clears them, each layout known by being the very same."""

    def __init__(self) -> None:
        self._kept: OrderedDict[int, tuple[Layout, tuple[Finding, ...]]] = OrderedDict()

    def get(self, layout: Layout) -> tuple[Finding, ...] | None:
        """What was kept of a layout."""
        kept = self._kept.get(id(layout))
        return kept[1] if kept is not None else None

    def keep(self, layout: Layout, found: tuple[Finding, ...]) -> None:
        """Keep what was found, and drop what is oldest."""
        self._kept[id(layout)] = layout, found
        if len(self._kept) > _LAYOUTS_KEPT:
            self._kept.popitem(last=False)


def _measured(findings: Iterable[Finding]) -> int:
    """How many of them are known as things stand."""
    return sum(not finding.stale and not finding.at_least for finding in findings)
