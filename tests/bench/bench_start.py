"""How long what a builder waits for takes, whole processes from their start, on a display of their own.

    python tests/bench/bench_start.py [rounds]

Opening a binary scan of 300,000 triangles, `check` and `report` of the sample project, the window's first paint, and
the first picture of the sample in 3D, counted from the start of the process. Seconds: least, median, greatest.
"""

import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from own_display import OwnDisplay

FLOORPAN = [sys.executable, "-m", "floorpan_app.command"]
READ = """
import sys, time
from pathlib import Path
from floorpan.progress import finish
from floorpan.scan import read_scan
began = time.perf_counter()
raw = finish(read_scan(Path(sys.argv[1]), "mm"))
print(len(raw.mesh.faces), time.perf_counter() - began)
"""
WINDOW = """
import os, sys, time
began = float(os.environ["BEGAN"])
from pathlib import Path
from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt, QTimer
from PySide6.QtWidgets import QApplication
from floorpan_app.settings import Settings
from floorpan_app.theme.follow import ThemeFollower
from floorpan_app.theme.fonts import use_fonts
from floorpan_app.window.main_window import MainWindow
QCoreApplication.setAttribute(Qt.ApplicationAttribute.AA_ShareOpenGLContexts)
app = QApplication(["floorpan"])
use_fonts()
window = MainWindow(Settings(), ThemeFollower(app, "light"))
told = {}
class Watch(QObject):
    def eventFilter(self, watched, event):
        if event.type() == QEvent.Type.Paint and "paint" not in told:
            QTimer.singleShot(0, lambda: told.setdefault("paint", time.time() - began))
        return False
watch = Watch()
window.start.installEventFilter(watch)
window.show()
window.open(Path(sys.argv[1]))
def look():
    works = window.works
    page = works.page if works is not None else None
    stage = page._parts.filling if page is not None else None
    if stage is not None and stage.ground.floor is not None:
        from floorpan_app.viewport.canvas import Canvas
        canvas = page.view.picture.findChild(Canvas)
        after = canvas._after
        def drawn(seconds):
            after(seconds)
            print(told.get("paint", -1.0), time.time() - began, flush=True)
            os._exit(0)
        canvas._after = drawn
        canvas.update()
    else:
        QTimer.singleShot(5, look)
QTimer.singleShot(0, look)
app.exec()
"""


def seconds_of(command: list[str]) -> float:
    began = time.perf_counter()
    done = subprocess.run(command, capture_output=True, text=True)
    if done.returncode not in (0, 1):
        raise SystemExit(done.stderr)
    return time.perf_counter() - began


def numbers_of(code: str, argument: Path) -> list[float]:
    named = {**os.environ, "BEGAN": repr(time.time())}
    done = subprocess.run(
        [sys.executable, "-c", code, str(argument)], capture_output=True, text=True, env=named
    )
    if done.returncode != 0:
        raise SystemExit(done.stderr)
    return [float(word) for word in done.stdout.split()]


def told(what: str, seconds: list[float]) -> None:
    middle = statistics.median(seconds)
    print(f"{what:52} {min(seconds):6.2f} {middle:6.2f} {max(seconds):6.2f}", flush=True)


def main() -> None:
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 5
    with tempfile.TemporaryDirectory() as kept:
        sample = Path(kept) / "sample.floorpan"
        subprocess.run([*FLOORPAN, "sample", str(sample)], check=True, capture_output=True)
        (scan,) = (sample / "imports").glob("*.ply")

        def several(measure: Callable[[], float]) -> list[float]:
            return [measure() for _ in range(rounds)]

        print(f"{'seconds':52}  least median greatest")
        told("reading the sample's scan, inside the process", several(lambda: numbers_of(READ, scan)[1]))
        told("floorpan check", several(lambda: seconds_of([*FLOORPAN, "check", str(sample)])))
        paper = Path(kept) / "fit.pdf"
        told(
            "floorpan report, a PDF with pictures",
            several(lambda: seconds_of([*FLOORPAN, "report", str(sample), "-o", str(paper)])),
        )
        # A window that ends at once leaves its lock: each opens a project of its own.
        copies = [
            Path(shutil.copytree(sample, Path(kept) / f"{number}.floorpan")) for number in range(rounds)
        ]
        windows = [numbers_of(WINDOW, copy) for copy in copies]
        told("the window's first paint", [paint for paint, _ in windows])
        told("the sample's first picture in 3D", [picture for _, picture in windows])


if __name__ == "__main__":
    display = OwnDisplay()
    display.start()
    try:
        main()
    finally:
        display.stop()
