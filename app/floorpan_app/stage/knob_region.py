"""Where the knob should be, in the picture: a body one sees through, its sides named, the nearest place marked."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from floorpan.advice.knob_for_driver import NOT_LOOKED, KnobAdvice
from floorpan.frames import Vector
from floorpan.layout import Step
from floorpan.report import knob_words as told_words
from floorpan.report.knob_told import told_sides
from floorpan_app.knob_in_hand import KnobInHand
from floorpan_app.stage import words
from floorpan_app.viewport.marks import JointMark, Path, Word
from floorpan_app.viewport.projection import Projection
from floorpan_app.viewport.scene import Scene
from floorpan_app.viewport.skins import skin
from floorpan_app.viewport.thing import Manner

NAME: Final = "knob.region"
STEP: Final[Step] = "driver"
_MANNER: Final = Manner(role="clear", opacity=0.3, pickable=False, outlined=True)
_AWAY_PX: Final = 62.0
_SAME_PLACE_MM: Final = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class KnobMarks:
    """Lines, words and joints to draw."""

    paths: tuple[Path, ...] = ()
    words: tuple[Word, ...] = ()
    joints: tuple[JointMark, ...] = ()


class KnobBody:
    """Keeps the region's body in a scene equal to the answer in hand."""

    def __init__(self, scene: Scene) -> None:
        self._scene = scene
        self._drawn: KnobAdvice | None = None

    def follow(self, advice: KnobAdvice | None) -> None:
        """Show the region of an answer; none of no answer and of an empty region."""
        if advice is self._drawn:
            return
        self._drawn = advice
        field = advice.region.field if advice is not None else None
        mesh = skin(field.origin_mm, field.spacing_mm, field.margin) if field is not None else None
        if mesh is None:
            self._scene.remove(NAME)
        else:
            self._scene.show_mesh(NAME, mesh, _MANNER)


def seen_advice(knob: KnobInHand, step: Step, *, reach: bool) -> KnobAdvice | None:
    """The answer that is to be seen in a step, where what reaches is shown."""
    return knob.advice if knob.shown and reach and step == STEP else None


def knob_marks(advice: KnobAdvice | None, side: str, projection: Projection | None) -> KnobMarks:
    """What limits on each side, and where the knob should go.

    side : what limits the side that stands out
    Words go away from the body's middle as it is seen, so that they lie around it.
    """
    if advice is None:
        return KnobMarks()
    told = [_word(advice, one.name, one.at_mm, side, projection) for one in told_sides(advice)]
    present, place = advice.region.question.present_mm, advice.place_mm
    if float(np.linalg.norm(np.subtract(place, present))) < _SAME_PLACE_MM:
        return KnobMarks(words=tuple(told))
    text = words.LEAST_BAD if advice.move is None else words.KNOB_GOES_HERE
    told.append(Word(text=text, at_mm=place, away_px=(-70.0, -52.0)))
    line = Path(points_mm=np.array([present, place]), stroke="dashed", role="accent", width_px=1.6)
    return KnobMarks(paths=(line,), words=tuple(told), joints=(JointMark(at_mm=place, role="accent"),))


def _word(advice: KnobAdvice, name: str, at: Vector, side: str, projection: Projection | None) -> Word:
    text = told_words.NOT_LOOKED if name == NOT_LOOKED else told_words.NAMES.get(name, name)
    role = "accent" if name == side else "unseen" if name == NOT_LOOKED else "ink2"
    return Word(
        text=text, at_mm=at, role=role, away_px=_away_px(advice.region.roomiest.place_mm, at, projection)
    )


def _away_px(middle: Vector, at: Vector, projection: Projection | None) -> tuple[float, float]:
    """From the body's middle outwards in the picture."""
    seen = [projection.pixel(place) for place in (middle, at)] if projection is not None else []
    if len(seen) < 2 or seen[0] is None or seen[1] is None:
        return (_AWAY_PX, 0.0)
    way = np.subtract(seen[1], seen[0])
    length = float(np.linalg.norm(way))
    x, y = _AWAY_PX * way / length if length > 1.0 else (_AWAY_PX, 0.0)
    # A word is wide: level ones go further out.
    return 1.5 * float(x), float(y)
