"""A display of the tests' own: Xvfb on a number it chooses itself, gone when the tests are, even when killed.

Nothing flashes over the developer's screen, no two runs meet, and nothing is read from or written to the
developer's own settings.
"""

import ctypes
import os
import signal
import subprocess
import sys
import tempfile
from pathlib import Path

SIZE = "1920x1200x24"
# What would make a window look other than on a plain system.
DROPPED = (
    "WAYLAND_DISPLAY",
    "DISPLAY",
    "QT_SCALE_FACTOR",
    "QT_SCREEN_SCALE_FACTORS",
    "QT_FONT_DPI",
    "QT_STYLE_OVERRIDE",
    "QT_QPA_PLATFORMTHEME",
)
SECONDS_TO_START = 20


class NoDisplay(Exception):
    """The tests' display could not be started; the message says what to do."""


def _die_with_parent() -> None:
    set_parent_death_signal = 1
    ctypes.CDLL(None).prctl(set_parent_death_signal, signal.SIGKILL)


class OwnDisplay:
    """Xvfb and a settings folder from `start` to `stop`. Away from Linux only the settings folder."""

    def __init__(self) -> None:
        self._server: subprocess.Popen[bytes] | None = None
        self._settings: tempfile.TemporaryDirectory[str] | None = None

    def start(self) -> None:
        self._settings = tempfile.TemporaryDirectory(prefix="floorpan-tests-")
        for variable in ("XDG_CONFIG_HOME", "XDG_CACHE_HOME", "XDG_DATA_HOME", "XDG_RUNTIME_DIR"):
            folder = Path(self._settings.name, variable.lower())
            folder.mkdir(mode=0o700)
            os.environ[variable] = str(folder)
        if not sys.platform.startswith("linux"):
            return
        for variable in DROPPED:
            os.environ.pop(variable, None)
        os.environ["QT_QPA_PLATFORM"] = "xcb"
        os.environ["DISPLAY"] = f":{self._serve()}"

    def _serve(self) -> str:
        told, tells = os.pipe()
        command = ["Xvfb", "-displayfd", str(tells), "-screen", "0", SIZE, "-nolisten", "tcp", "-noreset"]
        try:
            self._server = subprocess.Popen(
                command,
                pass_fds=[tells],
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
                preexec_fn=_die_with_parent,
            )
        except FileNotFoundError:
            raise NoDisplay("Xvfb is missing. sudo apt-get install -y --no-install-recommends xvfb") from None
        finally:
            os.close(tells)
        # Xvfb closes its end without a word when it cannot start, so this read always ends.
        with os.fdopen(told) as words:
            number = words.readline().strip()
        if not number:
            raise NoDisplay("Xvfb did not start. Run it by hand to see why: " + " ".join(command[:1]))
        return number

    def stop(self) -> None:
        if self._server is not None:
            self._server.terminate()
            self._server.wait(SECONDS_TO_START)
            self._server = None
        if self._settings is not None:
            self._settings.cleanup()
            self._settings = None
