"""The window on a scan of four million triangles: how long it stands still, deed by deed.

    python tests/bench/bench_big_window.py [spacing in mm]

A timer of 5 ms in the window's own thread notes the longest wait between two of its ticks. Under 100 ms nobody
notices; software drawing takes part of it where there is no graphics card.
"""

import os
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from own_display import OwnDisplay

PATIENCE_S = 300.0


def main() -> None:
    from PySide6.QtCore import QCoreApplication, QSettings, Qt, QTimer
    from PySide6.QtWidgets import QApplication

    QCoreApplication.setAttribute(Qt.ApplicationAttribute.AA_ShareOpenGLContexts)
    app = QApplication([])
    from floorpan import edits
    from floorpan.frames import Pose
    from floorpan.geometry.mesh import Mesh
    from floorpan.layout import Box
    from floorpan.progress import finish
    from floorpan.project.folder import open_project, save
    from floorpan.project.starting import start_project
    from floorpan.sample.plan import CarSizes
    from floorpan.sample.scanner import simulate_scan
    from floorpan.scan.writers import write_ply
    from floorpan_app.settings import Settings
    from floorpan_app.theme.follow import ThemeFollower
    from floorpan_app.theme.fonts import use_fonts
    from floorpan_app.window.main_window import MainWindow

    waits: list[tuple[float, float]] = []
    last = [time.perf_counter()]

    def tick() -> None:
        now = time.perf_counter()
        waits.append((now - last[0], now))
        last[0] = now

    def during(what: str, deed: Callable[[], object], ready: Callable[[], bool]) -> None:
        waits.clear()
        last[0] = began = time.perf_counter()
        deed()
        while not ready():
            if time.perf_counter() - began > PATIENCE_S:
                raise SystemExit(f"{what}: not ready")
            app.processEvents()
        settled = time.perf_counter() + 1.0
        took = time.perf_counter() - began
        while time.perf_counter() < settled:
            app.processEvents()
        held = [wait for wait, _ in waits]
        long = sum(wait > 0.1 for wait in held)
        print(
            f"{what:44} {took:7.2f} s, longest wait {1000 * max(held):6.0f} ms, {long} over 100 ms",
            flush=True,
        )

    spacing = float(sys.argv[1]) if len(sys.argv) > 1 else 1.55
    use_fonts()
    with tempfile.TemporaryDirectory() as folder:
        scan = simulate_scan(CarSizes(), seed=1, spacing_mm=spacing)
        print(f"{len(scan.faces):,} triangles")
        source, place = Path(folder) / "scan.ply", Path(folder) / "big.floorpan"
        write_ply(Mesh(scan.points, scan.faces), source)
        finish(start_project(place, source, "mm"))
        project = open_project(place)
        save(project, edits.set_axes(project.layout, "scan-1", Pose.from_matrix(scan.pose)))
        settings = Settings(QSettings(str(Path(folder) / "settings.ini"), QSettings.Format.IniFormat))
        window = MainWindow(settings, ThemeFollower(app, "light"))
        window.resize(1366, 768)
        window.show()
        timer = QTimer()
        timer.setInterval(5)
        timer.timeout.connect(tick)
        timer.start()

        def works() -> object:
            return window.works

        def opened() -> bool:
            there = window.works
            return there is not None and there.has_project() and there.session.judging.fresh

        during("opened, made ready and judged", lambda: window.open(place), opened)
        assert window.works is not None
        session = window.works.session
        desk = session.desk
        stage = window.works.parts.filling  # type: ignore[union-attr]
        still = lambda: not stage.ground.is_waiting() and not session.judging.is_at_it()  # noqa: E731
        during("scan step", lambda: desk.go_to("scan"), still)
        box = Box(
            frame=Pose.from_matrix(scan.pose).inverse(),
            least_mm=(-300, -400, -50),
            greatest_mm=(800, 400, 600),
        )
        during("crop by a box", lambda: desk.change("crop", lambda x: edits.crop(x, "scan-1", box)), still)
        during("crop taken back", session.document.undo, still)
        card = window.works.page.column.card()  # type: ignore[union-attr]
        during("roughness in colours", card.maps.rough.click, lambda: desk.scans.map is not None and still())
        during("colours gone", card.maps.rough.click, still)
        during("axes step", lambda: desk.go_to("axes"), still)
        during("check step", lambda: desk.go_to("check"), still)
        during("seen from above", lambda: window.works.page.view, still)  # type: ignore[union-attr]
        sys.stdout.flush()
        os._exit(0)


if __name__ == "__main__":
    OwnDisplay().start()
    main()
