"""What is drawn of a vessel in its well: the way it is lifted out, and how far it leans before the well holds it."""

from collections.abc import Collection
from dataclasses import dataclass
from typing import Final, cast

import numpy as np

from floorpan.derive import Scene
from floorpan.derive.lifting import Lifting
from floorpan.frames import Pose, Vector
from floorpan.items import CupHolder, Vessel, well_fit
from floorpan.items.states import State, stops_of
from floorpan.items.vessels import HANDED_OVER, LIFTING, OUT, PLACE, height_mm
from floorpan.units import System, show_length, show_number
from floorpan_app.stage import words
from floorpan_app.viewport.marks import Path, Word
from floorpan_app.well_mates import left_out

_UPRIGHT_DEG: Final = 0.05
_NOTHING_STOPS_IT_DEG: Final = 89.5
_TO_DRIVER_PX: Final = (70.0, -34.0)
_LEANS_PX: Final = (96.0, 10.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class CupMarks:
    """Lines and words to draw."""

    paths: tuple[Path, ...] = ()
    words: tuple[Word, ...] = ()


def cup_marks(
    scene: Scene, state: State, in_hand: str, system: System, chosen: Collection[str] = ()
) -> CupMarks:
    """The way and the lean of a vessel that stands in its well: of the one in hand, else of the first that is drawn.

    chosen : ids that are drawn before others in their well
    """
    vessel = _shown(scene, state, in_hand, left_out(scene.layout, state, chosen))
    if vessel is None:
        return CupMarks()
    holder = cast(CupHolder, scene.layout.thing(vessel.stands_in))
    lean, way = _lean(scene, holder, vessel), _way(scene, state, holder, vessel, system)
    return CupMarks(paths=lean.paths + way.paths, words=lean.words + way.words)


def _shown(scene: Scene, state: State, in_hand: str, unseen: frozenset[str]) -> Vessel | None:
    held = [
        one
        for one in scene.layout.of(Vessel)
        if one.stands_in
        and one.id not in unseen
        and stops_of(state, one.id).get(PLACE) != OUT
        and well_fit(cast(CupHolder, scene.layout.thing(one.stands_in)), one).enters
    ]
    first = [one for one in held if in_hand in (one.id, one.stands_in)]
    return next(iter(first or held), None)


def _way(scene: Scene, state: State, holder: CupHolder, vessel: Vessel, system: System) -> CupMarks:
    """Where its middle goes: straight up, then level towards whoever lifts it."""
    stop = stops_of(state, vessel.id).get(PLACE)
    stop = HANDED_OVER if stop == HANDED_OVER else LIFTING
    way = Lifting(scene.layout, scene.memory).way(vessel, holder, stop)
    if way.up_mm <= 0.0:
        return CupMarks()
    middle = np.array([0.0, 0.0, height_mm(vessel) / 2])
    points = np.array([place.pose().apply(middle) for place in (way.from_place, way.over_place, way.at(1.0))])
    up = show_length(round(way.up_mm), system, with_unit=system == "in")
    text = words.LIFT_UP_ONLY if way.level_mm <= 0.0 else words.LIFT_OUT[stop]
    return CupMarks(
        paths=(Path(points_mm=points, role="accent", stroke="dashed", width_px=2.0),),
        words=(Word(text=text.format(n=up), at_mm=_vector(points[1]), away_px=_TO_DRIVER_PX),),
    )


def _lean(scene: Scene, holder: CupHolder, vessel: Vessel) -> CupMarks:
    """Its middle line upright and leaning both ways, as far as the well lets it."""
    tilt = well_fit(holder, vessel).free_tilt_deg
    if not _UPRIGHT_DEG <= tilt < _NOTHING_STOPS_IT_DEG:
        return CupMarks()
    stood = cast(Vessel, scene.placed(vessel.id)).place.pose()
    line = np.array([[0.0, 0.0, 0.0], [0.0, 0.0, height_mm(vessel)]])
    leaning = [stood.after(Pose.turned((0.0, 1.0, 0.0), sign * tilt)).apply(line) for sign in (-1.0, 1.0)]
    return CupMarks(
        paths=(Path(points_mm=np.array(leaning), role="ink2", stroke="dashed", width_px=1.2),),
        words=(
            Word(
                text=words.LEANS.format(n=show_number(tilt, 1)),
                at_mm=_vector(leaning[1][1]),
                role="ink2",
                away_px=_LEANS_PX,
            ),
        ),
    )


def _vector(values: np.ndarray) -> Vector:
    x, y, z = (float(value) for value in values)
    return x, y, z
