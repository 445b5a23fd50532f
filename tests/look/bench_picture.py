"""Takes the picture of the bench on the sample car that the README shows.

python tests/look/bench_picture.py FILE.png [STEP [THEME [WIDTH HEIGHT [LENGTHS]]]]
"""

import os
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from own_display import OwnDisplay

PATIENCE_S = 120.0


def main() -> None:
    from PySide6.QtCore import QCoreApplication, QSettings, Qt
    from PySide6.QtWidgets import QApplication

    QCoreApplication.setAttribute(Qt.ApplicationAttribute.AA_ShareOpenGLContexts)
    app = QApplication([])
    from floorpan.progress import finish
    from floorpan.sample.write import write_sample
    from floorpan_app.settings import Settings
    from floorpan_app.theme.follow import ThemeFollower
    from floorpan_app.theme.fonts import use_fonts
    from floorpan_app.window.main_window import MainWindow

    target, step, theme, width, height, lengths = [
        *sys.argv[1:],
        *("", "controls", "light", "1366", "768", "mm")[len(sys.argv) - 1 :],
    ]

    def until(ready: Callable[[], bool]) -> None:
        end = time.monotonic() + PATIENCE_S
        while not ready():
            if time.monotonic() > end:
                raise SystemExit("The bench did not get ready.")
            app.processEvents()
            time.sleep(0.01)

    use_fonts()
    with tempfile.TemporaryDirectory() as folder:
        project = finish(write_sample(Path(folder) / "sample-car.floorpan"))
        settings = Settings(QSettings(str(Path(folder) / "settings.ini"), QSettings.Format.IniFormat))
        window = MainWindow(settings, ThemeFollower(app, theme))  # type: ignore[arg-type]
        window.resize(int(width), int(height))
        window.show()
        window.open(project)
        until(lambda: window.works is not None and window.works.has_project())
        assert window.works is not None
        session = window.works.session
        until(lambda: session.judging.fresh)
        window.works.use_system("in" if lengths == "in" else "mm")
        session.desk.go_to(step)  # type: ignore[arg-type]
        worst = next(
            (f for f in session.judging.findings if dict(f.state).get("shifter-1.gear") == "R"), None
        )
        if worst is not None:
            session.desk.show_stops(dict(worst.state))
        settled = time.monotonic() + 4.0
        until(lambda: time.monotonic() > settled)
        at = window.geometry()
        picture = app.primaryScreen().grabWindow(0, at.x(), at.y(), at.width(), at.height())
        Path(target).parent.mkdir(parents=True, exist_ok=True)
        picture.save(target)
        # The picture is taken; a window that asks nothing and keeps nothing need not be closed step by step.
        sys.stdout.flush()
        os._exit(0)


if __name__ == "__main__":
    OwnDisplay().start()
    main()
