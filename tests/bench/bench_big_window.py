"""The window on a scan of four million triangles: how long it stands still, deed by deed.

    python tests/bench/bench_big_window.py [spacing in mm]

A timer of 5 ms in the window's own thread notes the longest wait between two of its ticks. Under 100 ms nobody
notices; software drawing takes most of it where there is no graphics card.
"""

import os
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from own_display import OwnDisplay

PATIENCE_S = 300.0
TICK_MS = 5


class Watch:
    """Notes how long the window stands still."""

    def __init__(self, app: Any) -> None:
        from PySide6.QtCore import QTimer

        self._app = app
        self._waits: list[float] = []
        self._last = time.perf_counter()
        self._timer = QTimer()
        self._timer.setInterval(TICK_MS)
        self._timer.timeout.connect(self._tick)
        self._timer.start()

    def _tick(self) -> None:
        now = time.perf_counter()
        self._waits.append(now - self._last)
        self._last = now

    def during(self, what: str, deed: Callable[[], object], ready: Callable[[], bool]) -> None:
        """Do something and wait until it is done, and a second more."""
        self._waits.clear()
        self._last = began = time.perf_counter()
        deed()
        while not ready():
            if time.perf_counter() - began > PATIENCE_S:
                raise SystemExit(f"{what}: not ready")
            self._app.processEvents()
        took = time.perf_counter() - began
        settled = time.perf_counter() + 1.0
        while time.perf_counter() < settled:
            self._app.processEvents()
        long = sum(wait > 0.1 for wait in self._waits)
        worst = 1000 * max(self._waits)
        print(f"{what:36} {took:7.2f} s, longest wait {worst:6.0f} ms, {long} over 100 ms", flush=True)


def made_project(folder: Path, spacing: float) -> tuple[Path, Any]:
    """A project with the scan standing in car axes, and where its own coordinates lie."""
    from floorpan import edits
    from floorpan.frames import Pose
    from floorpan.geometry.mesh import Mesh
    from floorpan.progress import finish
    from floorpan.project.folder import open_project, save
    from floorpan.project.starting import start_project
    from floorpan.sample.plan import CarSizes
    from floorpan.sample.scanner import simulate_scan
    from floorpan.scan.writers import write_ply

    scan = simulate_scan(CarSizes(), seed=1, spacing_mm=spacing)
    print(f"{len(scan.faces):,} triangles")
    source, place = folder / "scan.ply", folder / "big.floorpan"
    write_ply(Mesh(scan.points, scan.faces), source)
    finish(start_project(place, source, "mm"))
    project, pose = open_project(place), Pose.from_matrix(scan.pose)
    save(project, edits.set_axes(project.layout, "scan-1", pose))
    return place, pose


def deeds(window: Any, watch: Watch, place: Path, pose: Any) -> None:
    from floorpan import edits
    from floorpan.layout import Box

    def opened() -> bool:
        there = window.works
        return there is not None and there.has_project() and there.session.judging.fresh

    watch.during("opened, made ready and judged", lambda: window.open(place), opened)
    session, page, stage = window.works.session, window.works.page, window.works.parts.filling
    desk = session.desk

    def still() -> bool:
        return not stage.ground.is_waiting() and not session.judging.is_at_it()

    watch.during("scan step", lambda: desk.go_to("scan"), still)
    box = Box(frame=pose.inverse(), least_mm=(-300, -400, -50), greatest_mm=(800, 400, 600))
    watch.during("crop by a box", lambda: desk.change("crop", lambda x: edits.crop(x, "scan-1", box)), still)
    watch.during("crop taken back", session.document.undo, still)
    card = page.column.card()
    watch.during("roughness in colours", card.maps.rough.click, lambda: bool(desk.scans.map) and still())
    watch.during("colours gone", card.maps.rough.click, still)
    watch.during("axes step", lambda: desk.go_to("axes"), still)
    watch.during("check step", lambda: desk.go_to("check"), still)


def main() -> None:
    from PySide6.QtCore import QCoreApplication, QSettings, Qt
    from PySide6.QtWidgets import QApplication

    QCoreApplication.setAttribute(Qt.ApplicationAttribute.AA_ShareOpenGLContexts)
    app = QApplication([])
    from floorpan_app.settings import Settings
    from floorpan_app.theme.follow import ThemeFollower
    from floorpan_app.theme.fonts import use_fonts
    from floorpan_app.window.main_window import MainWindow

    use_fonts()
    with tempfile.TemporaryDirectory() as folder:
        place, pose = made_project(Path(folder), float(sys.argv[1]) if len(sys.argv) > 1 else 1.55)
        settings = Settings(QSettings(str(Path(folder) / "settings.ini"), QSettings.Format.IniFormat))
        window = MainWindow(settings, ThemeFollower(app, "light"))
        window.resize(1366, 768)
        window.show()
        deeds(window, Watch(app), place, pose)
        # A window that keeps nothing need not be closed step by step.
        sys.stdout.flush()
        os._exit(0)


if __name__ == "__main__":
    OwnDisplay().start()
    main()
