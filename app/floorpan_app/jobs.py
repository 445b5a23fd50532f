"""Long work off the window: one job at a time in a lane, with progress, cancel and exactly one ending.

A job is a generator of steps. In a thread lane it runs in a worker; in a slice lane it runs in the window's own
thread, a few milliseconds at a time, for work that shares memory with the live view.
"""

import threading
import time
from collections import deque
from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject, Qt, QTimer, Signal
from shiboken6 import isValid

from floorpan.progress import Step, Work

SLICE_S = 0.008


class Job(QObject):
    """One piece of long work. Ends exactly once: succeeded, failed or cancelled; then `ended` follows."""

    progressed = Signal(object)
    succeeded = Signal(object)
    failed = Signal(object)
    cancelled = Signal()
    ended = Signal()

    def __init__(self, name: str, start: Callable[[], Work[Any]], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.name = name
        self.start = start
        self.over = False
        self._stop = threading.Event()

    @property
    def stopping(self) -> bool:
        """Whether somebody asked it to stop."""
        return self._stop.is_set()

    def cancel(self) -> None:
        """Ask it to stop at its next step; may be called from any thread, any number of times."""
        self._stop.set()

    def finish(self, signal: Any, *values: object) -> None:
        """End once with one signal; later ends are ignored."""
        if not self.over:
            self.over = True
            signal.emit(*values)
            self.ended.emit()


class _Courier(QObject):
    """Carries a worker's words to the window's thread."""

    said = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.said.connect(lambda act: act(), Qt.ConnectionType.QueuedConnection)


class ThreadLane(QObject):
    """Runs jobs one after another in one worker thread."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._waiting: deque[Job] = deque()
        self._running: Job | None = None
        self._courier = _Courier()
        self._thread: threading.Thread | None = None

    @property
    def busy(self) -> bool:
        """Whether a job runs or waits."""
        return self._running is not None or bool(self._waiting)

    def run(self, job: Job) -> Job:
        """Take a job; it starts when those before it have ended."""
        self._waiting.append(job)
        self._next()
        return job

    def stop_all(self) -> None:
        """Cancel what runs and what waits."""
        for job in (*self._waiting, *([self._running] if self._running else ())):
            job.cancel()

    def wait(self, seconds: float = 10.0) -> bool:
        """Wait for the worker to end, for closing; True when it did."""
        if self._thread is not None:
            self._thread.join(seconds)
            return not self._thread.is_alive()
        return True

    def _next(self) -> None:
        if self._running is not None or not self._waiting:
            return
        self._running = self._waiting.popleft()
        self._thread = threading.Thread(
            target=self._work, args=(self._running,), daemon=True, name="floorpan"
        )
        self._thread.start()

    def _work(self, job: Job) -> None:
        say = self._courier.said.emit
        told = 0.0
        try:
            work = job.start()
            while True:
                if job.stopping:
                    work.close()
                    say(lambda: self._end(job, job.cancelled))
                    return
                step = next(work)
                if time.monotonic() - told > 0.05:
                    told = time.monotonic()
                    say(lambda step=step: self._tell(job, step))
        except StopIteration as end:
            result = end.value
            say(lambda: self._end(job, job.succeeded, result))
        except Exception as fault:  # handed on whole: the window shows it
            kept = fault
            say(lambda: self._end(job, job.failed, kept))

    def _tell(self, job: Job, step: Step) -> None:
        if isValid(job):
            job.progressed.emit(step)

    def _end(self, job: Job, signal: Any, *values: object) -> None:
        self._running = None
        # A window that closed has taken its jobs with it; the word of their end may still be on its way.
        if isValid(job):
            job.finish(signal, *values)
        self._next()


class SliceLane(QObject):
    """Runs one job in the window's thread, a slice at a time; a newer job takes the older one's place."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._timer = QTimer(self)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self._slice)
        self._job: Job | None = None
        self._work: Work[Any] | None = None

    @property
    def busy(self) -> bool:
        """Whether a job runs."""
        return self._job is not None

    def run(self, job: Job) -> Job:
        """Start a job now; one that runs is cancelled."""
        self.stop()
        self._job, self._work = job, job.start()
        self._timer.start()
        return job

    def stop(self) -> None:
        """Cancel what runs."""
        if self._job is not None:
            self._finish(self._job.cancelled)

    def _slice(self) -> None:
        job, work = self._job, self._work
        if job is None or work is None:
            self._timer.stop()
            return
        end = time.monotonic() + SLICE_S
        try:
            step: Step | None = None
            while time.monotonic() < end:
                if job.stopping:
                    self._finish(job.cancelled)
                    return
                step = next(work)
            if step is not None:
                job.progressed.emit(step)
        except StopIteration as done:
            self._finish(job.succeeded, done.value)
        except Exception as fault:  # handed on whole: the window shows it
            self._finish(job.failed, fault)

    def _finish(self, signal: Any, *values: object) -> None:
        job, work = self._job, self._work
        self._job = self._work = None
        self._timer.stop()
        if work is not None:
            work.close()
        if job is not None:
            job.finish(signal, *values)
