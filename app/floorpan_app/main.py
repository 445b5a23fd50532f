"""The bench: `floorpan-bench`, or `python -m floorpan_app.main PROJECT`."""

import os
import sys
from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtWidgets import QApplication

from floorpan_app.messages import NO_DISPLAY, PROGRAM
from floorpan_app.settings import Settings
from floorpan_app.theme.follow import ThemeFollower
from floorpan_app.theme.fonts import use_fonts
from floorpan_app.window.main_window import MainWindow


def main(argv: Sequence[str] | None = None) -> int:
    """Open the bench, on the project folder that is named or with the start screen; returns when it is closed."""
    arguments = list(sys.argv[1:] if argv is None else argv)
    if not _has_display():
        # The toolkit would abort the process.
        sys.stderr.write(f"{NO_DISPLAY}\n")
        return 2
    # A picture that moves to another window keeps its context only where all contexts are shared.
    QCoreApplication.setAttribute(Qt.ApplicationAttribute.AA_ShareOpenGLContexts)
    app = QApplication([PROGRAM, *arguments])
    app.setApplicationName(PROGRAM)
    app.setApplicationDisplayName(PROGRAM)
    use_fonts()
    settings = Settings()
    window = MainWindow(settings, ThemeFollower(app, settings.theme()))
    hook, sys.excepthook = sys.excepthook, window.unforeseen
    try:
        window.show()
        if arguments:
            window.open(Path(arguments[0]))
        return app.exec()
    finally:
        sys.excepthook = hook


def _has_display() -> bool:
    wanted = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    return not sys.platform.startswith("linux") or any(os.environ.get(name) for name in wanted)


if __name__ == "__main__":
    sys.exit(main())
