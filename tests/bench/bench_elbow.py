"""How long the elbow takes on the sample car: in a gear, over all gears, and in the Driver step while one drags.

    python tests/bench/bench_elbow.py [steps]

Times in ms. Of the elbow the thread's work, least and middle of many rounds, wires remembered and not; of the steps
of dragging as in bench_stage, once as the Driver step is and once with everything of the driver put away.
"""

import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from bench.bench_stage import Spent, dragged, sample_stage, told, watch_parts
from own_display import OwnDisplay

ROUNDS = 30


def timed(what: str, run: Callable[[], object], rounds: int = ROUNDS, each: int = 1) -> None:
    times = []
    for _ in range(rounds):
        start = time.thread_time()
        run()
        times.append(1000.0 * (time.thread_time() - start) / each)
    print(f"{what:44} {min(times):6.2f} at least {statistics.median(times):6.2f} in the middle", flush=True)


def elbows() -> None:
    from core.sample_case import sample_case
    from floorpan.derive import Scene, elbow_in, elbow_locus
    from floorpan.derive.memory import Memory
    from floorpan.items import Shifter
    from floorpan.items.states import State, state_of
    from floorpan_app.standing import standing

    layout = sample_case(1).layout
    person, seat, shifter = layout.people[0], layout.seats[0], layout.of(Shifter)[0]
    for belts in ("tight", "loose"):
        state = standing(layout, state_of({f"{person.id}.belts": belts}))
        kept = Scene(layout=layout, floors=(), memory=Memory())
        gears = len(elbow_locus(kept, person, seat, shifter, state))

        def afresh(state: State = state) -> object:
            scene = Scene(layout=layout, floors=(), memory=Memory())
            return elbow_in(scene, person, seat, shifter, state)

        def wires_kept(kept: Scene = kept, state: State = state) -> object:
            held = kept.memory._held
            for key in [key for key in held if str(key).startswith("(('elbow'")]:
                del held[key]
            return elbow_locus(kept, person, seat, shifter, state)

        timed(f"one gear, belts {belts}, bodies and wires made", afresh)
        timed(f"one gear of {gears}, belts {belts}, wires kept", wires_kept, each=gears)


def steps_of_dragging(steps: int) -> None:
    from PySide6.QtCore import QCoreApplication, Qt
    from PySide6.QtWidgets import QApplication

    QCoreApplication.setAttribute(Qt.ApplicationAttribute.AA_ShareOpenGLContexts)
    app: Any = QApplication([])
    from floorpan_app.theme.fonts import use_fonts
    from floorpan_app.theme.in_use import use
    from floorpan_app.theme.record import load_theme

    theme = load_theme("light")
    use(theme)
    use_fonts(100)
    view, stage = sample_stage(app, theme)
    stage._desk.go_to("driver")
    spent: Spent = {}
    watch_parts(view, stage, spent)
    for words_on in (True, False):
        for word in ("driver", "reach"):
            stage.show(word, words_on)
        dragged(app, view, stage, "shifter-1", steps)
        spent.clear()
        told(
            f"a step, driver and reach {'shown' if words_on else 'put away'}",
            dragged(app, view, stage, "shifter-1", steps),
        )
        for what in sorted(spent):
            told(what, spent[what])
    stage.stop()
    stage._desk.judging.close()
    view.close()
    app.shutdown()


if __name__ == "__main__":
    elbows()
    OwnDisplay().start()
    steps_of_dragging(int(sys.argv[1]) if len(sys.argv) > 1 else 60)
