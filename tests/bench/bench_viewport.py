"""How long pictures, drags and picks take here, in the real viewport on a display of its own.

    python tests/bench/bench_viewport.py [triangles] [theme] [picture.png]

Times are medians in ms; the load of the machine is in them. With a file name the last picture is kept.
"""

import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from own_display import OwnDisplay

FRAMES = 25


def told(what: str, seconds: list[float]) -> None:
    milliseconds = [1000.0 * second for second in seconds]
    middle, slow = statistics.median(milliseconds), sorted(milliseconds)[int(0.95 * len(milliseconds))]
    print(f"{what:46} {middle:8.1f}   95 % under {slow:8.1f}", flush=True)


def timed(step: Callable[[int], None], count: int = FRAMES) -> list[float]:
    taken = []
    for number in range(count):
        began = time.perf_counter()
        step(number)
        taken.append(time.perf_counter() - began)
    return taken


def bench_drag(app: Any, view: Any) -> None:
    """A bottle dragged along, with five tickets and a ghost."""
    from app.viewport import made_up_cabin as cabin
    from floorpan_app.viewport.marks import GapLine, Ghost, Marks
    from floorpan_app.viewport.thing import Manner

    ghost = Ghost(body=cabin.bottle(640.0, 30.0, 150.0))

    def drag(number: int) -> None:
        x = 640.0 + number
        view.scene.show_body("vessel-1", cabin.bottle(x, 30.0, 150.0), Manner(role="vessel", opacity=0.9))
        gaps = tuple(
            GapLine(
                id=f"gap-{n}",
                verdict="close",
                a_mm=(x, 30.0, 340.0),
                b_mm=(x - 120.0, 30.0 - 40.0 * n, 380.0),
                u_mm=2.0,
                value_text=f"{17 + number}",
                u_text="± 2",
                part="bottle",
            )
            for n in range(5)
        )
        view.overlay.set_marks(Marks(gaps=gaps, ghosts=(ghost,)))
        app.processEvents()

    timed(drag, 3)
    told("a step of dragging, five tickets and a ghost", timed(drag))


def main() -> None:
    triangles = int(sys.argv[1]) if len(sys.argv) > 1 else 300_000
    from PySide6.QtCore import QCoreApplication, Qt
    from PySide6.QtWidgets import QApplication

    QCoreApplication.setAttribute(Qt.ApplicationAttribute.AA_ShareOpenGLContexts)
    app = QApplication([])
    from app.viewport import made_up_cabin as cabin
    from floorpan_app.theme.fonts import use_fonts
    from floorpan_app.theme.in_use import use
    from floorpan_app.theme.record import load_theme
    from floorpan_app.viewport.thing import Manner
    from floorpan_app.viewport.view import Viewport

    theme = load_theme(sys.argv[2] if len(sys.argv) > 2 else "light")  # type: ignore[arg-type]
    use(theme)
    use_fonts(100)
    scan, patches = cabin.floor_and_patches(triangles)
    began = time.perf_counter()
    view = Viewport(theme)
    view.resize(1022, 672)
    view.show()
    app.processEvents()
    told("empty viewport, to its first picture", [time.perf_counter() - began])
    began = time.perf_counter()
    view.scene.show_mesh("scan-1", scan, Manner(role="scan"))
    view.scene.show_patches("unseen", patches)
    for name, body, manner in (
        ("seat-1", cabin.seat(), Manner(role="seat")),
        ("shifter-1", cabin.lever(), Manner(role="steel")),
        ("knob", cabin.knob(), Manner(role="knob")),
        ("driver-1", cabin.arm(), Manner(role="driver", opacity=theme.things.driver_opacity)),
        ("vessel-1", cabin.bottle(640.0, 30.0, 150.0), Manner(role="vessel", opacity=0.9)),
    ):
        view.scene.show_body(name, body, manner)
    view.camera.see_from("free")
    app.processEvents()
    told(f"{len(scan.faces)} triangles shown, to the picture", [time.perf_counter() - began])
    began = time.perf_counter()
    view.pick(500.0, 450.0)
    told("first pick, building its tree", [time.perf_counter() - began])
    told("a pick", timed(lambda number: view.pick(300.0 + 10.0 * number, 450.0) and None))

    def whole(number: int) -> None:
        view._pace.be_still()
        view.screenshot()

    told("a careful picture, smooth edges, read back", timed(whole, 7))

    def orbit(number: int) -> None:
        view.camera.turn((600.0, 0.0, 100.0), 2.0, 0.0)
        app.processEvents()

    timed(orbit, 3)
    told("a step of turning", timed(orbit))
    bench_drag(app, view)
    if len(sys.argv) > 3:
        view.screenshot().save(sys.argv[3])
    view.close()
    app.shutdown()


if __name__ == "__main__":
    display = OwnDisplay()
    display.start()
    try:
        main()
    finally:
        display.stop()
