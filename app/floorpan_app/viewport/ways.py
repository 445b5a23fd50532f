"""Which kind of window pictures can be drawn in off the screen: found out once, in a child process.

Where a library of the system is missing, the toolkit does not raise: it kills the process. So each kind is tried in
a child, and only one that worked there is used here. Nothing of the toolkit is loaded to ask.
"""

import contextlib
import os
import subprocess
import sys

WAY = "VTK_DEFAULT_OPENGL_WINDOW"
_WITHOUT_DISPLAY = ("vtkEGLRenderWindow", "vtkOSOpenGLRenderWindow")
_TRIAL_S = 60.0


class Ways:
    """The kinds of window of this machine, tried one after another until one works."""

    def __init__(self) -> None:
        self._begun: tuple[str, subprocess.Popen[bytes]] | None = None
        self._found: list[str | None] = []

    def begin(self) -> None:
        """Begin the first trial, if none was begun yet, and do not wait for it: a child takes a second or two."""
        if not self._found and self._begun is None:
            first = self._all()[0]
            child = _child(first)
            self._begun = (first, child) if child is not None else None

    def found(self) -> str | None:
        """The kind that worked: empty for the usual one; None where none did."""
        if not self._found:
            self.begin()
            begun, self._begun = self._begun, None
            self._found.append(next((way for way in self._all() if self._works(way, begun)), None))
        return self._found[0]

    def _works(self, way: str, begun: tuple[str, subprocess.Popen[bytes]] | None) -> bool:
        child = begun[1] if begun is not None and begun[0] == way else _child(way)
        return child is not None and _ended_well(child)

    def _all(self) -> tuple[str, ...]:
        given = os.environ.get(WAY)
        if given is not None:
            return (given,)
        if not sys.platform.startswith("linux"):
            return ("",)
        return ("", *_WITHOUT_DISPLAY) if os.environ.get("DISPLAY") else (*_WITHOUT_DISPLAY, "")


def _child(way: str) -> subprocess.Popen[bytes] | None:
    environment = dict(os.environ) | ({WAY: way} if way else {})
    command = [sys.executable, "-m", "floorpan_app.viewport.trial"]
    try:
        return subprocess.Popen(
            command,
            env=environment,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
    except OSError:
        return None


def _ended_well(child: subprocess.Popen[bytes]) -> bool:
    try:
        return child.wait(_TRIAL_S) == 0
    except subprocess.TimeoutExpired:
        return False
    finally:
        # Also where somebody stops the program meanwhile.
        with contextlib.suppress(OSError):
            child.kill()
        child.wait()


ways = Ways()
"""Those of this process."""
