"""Ctrl-C is never lost: a library that swallows it while it is loaded only puts it off to the next step of the work."""

import contextlib
import signal
from types import FrameType

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
    raise KeyboardInterrupt
