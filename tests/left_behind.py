"""What a test of the app may not leave behind: a thread, a pool at work, a running timer, an open window.

Timers that Qt starts itself are not seen, only those Python code started; each is named with its line.
"""

import gc
import multiprocessing
import sys
import threading
import time
import traceback
from collections.abc import Callable, Iterator
from typing import Any

import pytest
import shiboken6
from PySide6.QtCore import QCoreApplication, QEvent, QThread, QThreadPool, QTimer
from PySide6.QtWidgets import QApplication, QWidget

GRACE_S = 2.0
# Qt keeps one of these alive between two tips and takes it away by itself.
QTS_OWN_WINDOWS = ("QTipLabel",)


def _caller() -> str:
    for frame in reversed(traceback.extract_stack()[:-2]):
        if "PySide6" not in frame.filename and "pytestqt" not in frame.filename:
            return f"{frame.filename}:{frame.lineno}"
    return "an unknown line"


def drain() -> None:
    """Let Qt do what it has put off, above all the deletes."""
    for _ in range(3):
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
        QCoreApplication.processEvents()


def windows() -> dict[int, QWidget]:
    """Every top-level widget alive, by the address Qt knows it by."""
    alive = [widget for widget in QApplication.topLevelWidgets() if shiboken6.isValid(widget)]
    named = [widget for widget in alive if widget.metaObject().className() not in QTS_OWN_WINDOWS]
    return {shiboken6.getCppPointer(widget)[0]: widget for widget in named}


def plotters() -> dict[int, str]:
    """Every pyvista plotter alive: its class by its id. None where pyvista was never imported."""
    if "pyvista" not in sys.modules:
        return {}
    # Only the class is asked, and each class once: asking a stranger for its own `__class__` may wake it up.
    kinds: dict[type, bool] = {}
    found = {}
    for thing in gc.get_objects():
        kind = type(thing)
        if kind not in kinds:
            kinds[kind] = any(parent.__name__ == "BasePlotter" for parent in kind.__mro__)
        if kinds[kind]:
            found[id(thing)] = kind.__name__
    return found


class Watch:
    """Notes what starts during one test and says what of it is still there.

    pictures : look for plotters as well, which takes a few tenths of a second
    """

    def __init__(self, patch: pytest.MonkeyPatch, *, pictures: bool = False) -> None:
        self._plotters = plotters() if pictures else None
        self._timers: list[tuple[QTimer, str]] = []
        self._threads: list[tuple[QThread, str]] = []
        self._pools: list[tuple[QThreadPool, str]] = []
        self._python_threads = set(threading.enumerate())
        self._children = set(multiprocessing.active_children())
        self._windows = set(windows()) if QApplication.instance() is not None else set()
        for kind, noted in ((QTimer, self._timers), (QThread, self._threads), (QThreadPool, self._pools)):
            patch.setattr(kind, "start", self._noting(kind.start, noted))

    @staticmethod
    def _noting(start: Callable[..., Any], noted: list[tuple[Any, str]]) -> Callable[..., Any]:
        def noting_start(self: Any, *arguments: Any, **named: Any) -> Any:
            noted.append((self, _caller()))
            return start(self, *arguments, **named)

        return noting_start

    def _still(self) -> Iterator[str]:
        for timer, where in self._timers:
            if shiboken6.isValid(timer) and timer.isActive():
                yield f"a timer started at {where} is still running"
        for thread, where in self._threads:
            if shiboken6.isValid(thread) and thread.isRunning():
                yield f"a thread started at {where} is still running"
        for pool, where in self._pools:
            if shiboken6.isValid(pool) and pool.activeThreadCount() > 0:
                yield f"a thread pool given work at {where} is still at it"
        for python_thread in set(threading.enumerate()) - self._python_threads:
            yield f"the thread {python_thread.name} is still alive"
        for child in set(multiprocessing.active_children()) - self._children:
            yield f"the process {child.name} is still alive"
        if QApplication.instance() is not None:
            for address, widget in windows().items():
                if address not in self._windows:
                    yield f"a window is still there: {describe(widget)}"
        if self._plotters is not None:
            for address, name in plotters().items():
                if address not in self._plotters:
                    yield f"a {name} is still there"

    def left(self) -> list[str]:
        """What is still there, in words, after a while of waiting for what is just about to end."""
        until = time.monotonic() + GRACE_S
        found = self._found()
        while found:
            late = time.monotonic() > until
            # Rings of closures and windows go only when they are collected.
            gc.collect()
            found = self._found()
            if late:
                break
            time.sleep(0.02)
        return found

    def _found(self) -> list[str]:
        if QApplication.instance() is not None:
            drain()
        return list(self._still())

    def clear_away(self) -> None:
        """Stop and delete what is left, so that the next test is not blamed for it."""
        for timer, _ in self._timers:
            if shiboken6.isValid(timer):
                timer.stop()
        if QApplication.instance() is not None:
            for address, widget in windows().items():
                if address not in self._windows:
                    widget.hide()
                    widget.deleteLater()
            drain()
        self._timers.clear()
        self._threads.clear()
        self._pools.clear()


def describe(widget: QWidget) -> str:
    """A window's class, name and title, and what kinds of thing hold on to it."""
    ours = (list, type(None))
    holders = {type(holder).__name__ for holder in gc.get_referrers(widget) if not isinstance(holder, ours)}
    name, title = widget.objectName(), widget.windowTitle()
    return f"{type(widget).__name__} {name!r} {title!r}, held by {', '.join(sorted(holders)) or 'nothing'}"
