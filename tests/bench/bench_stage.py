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


Spent = dict[str, list[float]]


def main() -> None:
    steps = int(sys.argv[1]) if len(sys.argv) > 1 else 80
    from PySide6.QtCore import QCoreApplication, Qt
    from PySide6.QtWidgets import QApplication

    QCoreApplication.setAttribute(Qt.ApplicationAttribute.AA_ShareOpenGLContexts)
    app = QApplication([])
    from floorpan_app.theme.fonts import use_fonts
    from floorpan_app.theme.in_use import use
    from floorpan_app.theme.record import load_theme

    theme = load_theme("light")
    use(theme)
    use_fonts(100)
    view, stage = sample_stage(app, theme)
    spent: Spent = {}
    watch_parts(view, stage, spent)
    for thing, name in (("cup-holder-1", "the cup holder with its bottle"), ("shifter-1", "the shifter")):
        # The first round fills what is kept between steps.
        dragged(app, view, stage, thing, steps)
        spent.clear()
        told(f"a step of dragging {name}", dragged(app, view, stage, thing, steps))
        for what in sorted(spent):
            told(what, spent[what])
    if len(sys.argv) > 2:
        view.screenshot().save(sys.argv[2])
    stage.stop()
    stage._desk.judging.close()
    view.close()
    app.shutdown()


def sample_stage(app: Any, theme: Any) -> tuple[Any, Any]:
    """The sample car in a viewport, judged and drawn."""
    from core.sample_case import sample_case
    from floorpan_app.desk import Desk
    from floorpan_app.document import Document
    from floorpan_app.judging import Judging
    from floorpan_app.stage.stage import Stage
    from floorpan_app.viewport.view import Viewport

    case = sample_case(1)
    document = Document(case.layout)
    desk = Desk(document, Judging(document, case.store))
    view = Viewport(theme)
    view.resize(1022, 672)
    stage = Stage(view, desk)
    desk.go_to("controls")
    view.show()
    began = time.perf_counter()
    while not desk.judging.fresh or stage.ground.is_waiting():
        app.processEvents()
        time.sleep(0.002)
    print(f"judged and drawn after {time.perf_counter() - began:.1f} s", flush=True)
    return view, stage


def watch_parts(view: Any, stage: Any, spent: Spent) -> None:
    """Note how long each part of a step takes."""

    def watch(owner: Any, name: str, what: str) -> None:
        plain: Callable[..., Any] = getattr(owner, name)

        def timed(*given: Any, **named: Any) -> Any:
            start = time.thread_time()
            try:
                return plain(*given, **named)
            finally:
                spent.setdefault(what, []).append(time.thread_time() - start)

        setattr(owner, name, timed)

    judging = stage._desk.judging
    watch(judging, "_live", "  live judging and who hears of it")
    watch(judging._evaluator, "live", "    live judging alone")
    watch(stage, "_stand", "  bodies")
    watch(stage, "_write", "  marks")
    watch(view.overlay, "paint", "  writing painted")
    canvas = canvas_of(view)
    after = canvas._after

    def took(seconds: float) -> None:
        spent.setdefault("  the picture itself", []).append(seconds)
        after(seconds)

    canvas._after = took


def dragged(app: Any, view: Any, stage: Any, thing: str, steps: int) -> list[float]:
    """Seconds of each step of one drag, which is undone then."""
    from PySide6.QtCore import QPointF, Qt
    from PySide6.QtTest import QTest

    stage._desk.select(thing)
    app.processEvents()
    canvas, start = canvas_of(view), on_thing(view, thing)
    left, nothing = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    whole = []
    QTest.mousePress(canvas, left, nothing, start)
    at = QPointF(start)
    for number in range(steps):
        at += QPointF(1.0 if number < steps / 2 else -1.0, 0.5 if number % 20 < 10 else -0.5)
        step = time.perf_counter()
        QTest.mouseMove(canvas, at.toPoint())
        app.processEvents()
        whole.append(time.perf_counter() - step)
    QTest.mouseRelease(canvas, left, nothing, at.toPoint())
    stage._desk.document.undo()
    while not stage._desk.judging.fresh:
        app.processEvents()
    return whole


def canvas_of(view: Any) -> Any:
    from floorpan_app.viewport.canvas import Canvas

    return view.findChild(Canvas)


def on_thing(view: Any, id: str) -> Any:
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
