"""Ctrl-C is never lost, and never breaks a library that is being loaded: it waits for the next step of the work.

A library may swallow it there and fail later by what is missing of it, or bring the whole process down.
"""

import contextlib
import signal
from types import FrameType

_LOADER = "<frozen importlib"
_asked: list[int] = []


def watch() -> None:
    """Remember from now on that somebody asked to stop. Elsewhere than in the main thread nothing changes."""
    _asked.clear()
    with contextlib.suppress(ValueError):
        signal.signal(signal.SIGINT, _ask)


def stop_if_asked() -> None:
    """Raise KeyboardInterrupt where somebody asked to stop, and nobody has heeded it yet."""
    if _asked:
        raise KeyboardInterrupt


def _ask(number: int, frame: FrameType | None) -> None:
    _asked.append(number)
    if not _loading(frame):
        raise KeyboardInterrupt


def _loading(frame: FrameType | None) -> bool:
    """Whether a module is being loaded there."""
    while frame is not None:
        if frame.f_code.co_filename.startswith(_LOADER):
            return True
        frame = frame.f_back
    return False
