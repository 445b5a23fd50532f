"""How long a step of dragging takes on the sample car, whole and part by part, on a display of its own.

    python tests/bench/bench_stage.py [steps] [picture.png]

A step is one mouse move and everything until its picture is on the display: preview, live judging, bodies, marks,
the picture. Times in ms; of a whole step and of the picture by the clock, so that the load of the machine is in
them, of the parts as the thread has worked. With a file name the last picture is kept.
"""

import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from own_display import OwnDisplay


def told(what: str, seconds: list[float]) -> None:
    milliseconds = sorted(1000.0 * second for second in seconds)
    if milliseconds:
        slow = milliseconds[int(0.95 * len(milliseconds))]
        print(f"{what:44} {statistics.median(milliseconds):8.1f}   95 % under {slow:8.1f}", flush=True)


def main() -> None:
    steps = int(sys.argv[1]) if len(sys.argv) > 1 else 80
    from PySide6.QtCore import QCoreApplication, QPoint, QPointF, Qt
    from PySide6.QtTest import QTest
    from PySide6.QtWidgets import QApplication

    QCoreApplication.setAttribute(Qt.ApplicationAttribute.AA_ShareOpenGLContexts)
    app = QApplication([])
    from core.sample_case import sample_case
    from floorpan_app.desk import Desk
    from floorpan_app.document import Document
    from floorpan_app.judging import Judging
    from floorpan_app.stage import Stage
    from floorpan_app.theme.fonts import use_fonts
    from floorpan_app.theme.in_use import use
    from floorpan_app.theme.record import load_theme
    from floorpan_app.viewport.canvas import Canvas
    from floorpan_app.viewport.view import Viewport

    theme = load_theme("light")
    use(theme)
    use_fonts(100)
    case = sample_case(1)
    document = Document(case.layout)
    judging = Judging(document, case.store)
    desk = Desk(document, judging)
    view = Viewport(theme)
    view.resize(1022, 672)
    stage = Stage(view, desk)
    desk.go_to("controls")
    view.show()
    began = time.perf_counter()
    while not judging.fresh or stage.ground.is_waiting():
        app.processEvents()
        time.sleep(0.002)
    print(f"judged and drawn after {time.perf_counter() - began:.1f} s", flush=True)
    spent: dict[str, list[float]] = {}

    def watch(owner: Any, name: str, what: str) -> None:
        plain: Callable[..., Any] = getattr(owner, name)

        def timed(*given: Any, **named: Any) -> Any:
            start = time.thread_time()
            try:
                return plain(*given, **named)
            finally:
                spent.setdefault(what, []).append(time.thread_time() - start)

        setattr(owner, name, timed)

    watch(judging, "_live", "  live judging and who hears of it")
    watch(judging._evaluator, "live", "    live judging alone")
    watch(stage, "_stand", "  bodies")
    watch(stage, "_write", "  marks")
    watch(view.overlay, "paint", "  writing painted")
    canvas = view.findChild(Canvas)
    assert isinstance(canvas, Canvas)
    after = canvas._after
    assert after is not None

    def took(seconds: float) -> None:
        spent.setdefault("  the picture itself", []).append(seconds)
        after(seconds)

    canvas._after = took
    for thing, name in (("cup-holder-1", "the cup holder with its bottle"), ("shifter-1", "the shifter")):
        desk.select(thing)
        app.processEvents()
        start = on_thing(view, stage, thing)
        nothing = Qt.KeyboardModifier.NoModifier
        for round_ in range(2):
            spent.clear()
            whole = []
            QTest.mousePress(canvas, Qt.MouseButton.LeftButton, nothing, start)
            at = QPointF(start)
            for number in range(steps):
                at += QPointF(1.0 if number < steps / 2 else -1.0, 0.5 if number % 20 < 10 else -0.5)
                step = time.perf_counter()
                QTest.mouseMove(canvas, at.toPoint())
                app.processEvents()
                whole.append(time.perf_counter() - step)
            QTest.mouseRelease(canvas, Qt.MouseButton.LeftButton, nothing, at.toPoint())
            document.undo()
            while not judging.fresh:
                app.processEvents()
            if round_:
                told(f"a step of dragging {name}", whole)
                for what in sorted(spent):
                    told(what, spent[what])
    assert isinstance(start, QPoint)
    if len(sys.argv) > 2:
        view.screenshot().save(sys.argv[2])
    stage.stop()
    judging.close()
    view.close()
    app.shutdown()


def on_thing(view: Any, stage: Any, id: str) -> Any:
    """A pixel where a thing is met first."""
    from PySide6.QtCore import QPoint

    names = view.in_hand()
    for y in range(60, view.height() - 40, 6):
        for x in range(40, view.width() - 40, 6):
            pick = view.pick(float(x), float(y))
            if pick is not None and pick.name in names and view.target(float(x), float(y)) is None:
                return QPoint(x, y)
    raise SystemExit(f"{id} is not in the picture")


if __name__ == "__main__":
    display = OwnDisplay()
    display.start()
    try:
        main()
    finally:
        display.stop()
