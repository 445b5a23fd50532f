"""The hand that measures from one clicked point to another."""

import numpy as np

from floorpan.units import show_length
from floorpan_app.stage import words
from floorpan_app.stage.hands.hand import NOTHING_DRAWN, Around, Drawn
from floorpan_app.stage.places import step_words
from floorpan_app.tools.events import Modifiers, ToolEvent
from floorpan_app.tools.measure import Measure, Measured
from floorpan_app.viewport.marks import Dimension, Path


class MeasuringHand:
    """Two clicks; the distance follows the mouse in between, and stays until the next."""

    def __init__(self, around: Around) -> None:
        self._around = around
        self._tool = Measure()
        self._shown: Measured | None = None
        self._begun = False

    @property
    def measured(self) -> Measured | None:
        """What is shown."""
        return self._shown

    def press(self, event: ToolEvent) -> None:
        self._tool.press(event)

    def move(self, event: ToolEvent) -> None:
        proposal = self._tool.move(event)
        if self._begun and proposal is not None:
            self._show(proposal.value)

    def release(self, event: ToolEvent) -> None:
        proposal = self._tool.release(event)
        if proposal is None:
            return
        self._begun = proposal.kind != "done"
        self._show(proposal.value)
        if self._begun:
            self._around.say(words.MEASURE_SECOND)

    def key(self, name: str, modifiers: Modifiers) -> bool:
        return False

    def settle(self) -> None:
        """Keys propose nothing here."""

    def put_back(self) -> bool:
        if self._shown is None:
            return False
        self._tool.key("escape", Modifiers())
        self._shown, self._begun = None, False
        self._around.say(words.MEASURE_HINT)
        self._around.rewrite()
        return True

    def drawn(self) -> Drawn:
        shown = self._shown
        if shown is None or shown.distance_mm <= 0.0:
            return NOTHING_DRAWN
        system = self._around.desk.system
        dimension = Dimension(
            a_mm=shown.first_mm, b_mm=shown.second_mm, text=show_length(shown.distance_mm, system)
        )
        return Drawn(dimensions=(dimension,), paths=_corner(shown))

    def hint(self) -> str:
        return words.MEASURE_HINT

    def _show(self, measured: Measured) -> None:
        self._shown = measured
        desk = self._around.desk
        if measured.distance_mm > 0.0:
            posed = self._around.ground.pose is not None
            ways = step_words(measured.step_mm, desk.layout, desk.system, in_car_axes=posed)
            distance = show_length(measured.distance_mm, desk.system)
            self._around.say(words.MEASURED.format(distance=distance, unit=desk.system, ways=ways))
        self._around.rewrite()


def _corner(shown: Measured) -> tuple[Path, ...]:
    """The way there along the axes, thin: first on the level, then up or down."""
    first, last = np.array(shown.first_mm), np.array(shown.second_mm)
    corner = np.array([last[0], first[1], first[2]])
    foot = np.array([last[0], last[1], first[2]])
    return (
        Path(points_mm=np.array([first, corner, foot, last]), role="ink2", stroke="dashed", width_px=1.0),
    )
