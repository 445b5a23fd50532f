"""Where the knob shall be, in the picture: the knob's dashed outline, a small cross in its middle, its name."""

import functools
from dataclasses import dataclass
from typing import Final

import numpy as np

from floorpan.frames import Pose, Vector
from floorpan.geometry.solids import Body, Solid
from floorpan.items import Shifter, gate_table
from floorpan.items.shapes import orb
from floorpan.layout import Layout, Step
from floorpan_app.stage import words
from floorpan_app.viewport.marks import Path, Word

STEPS: Final[tuple[Step, ...]] = ("driver", "controls")
_USUAL_RADIUS_MM: Final = 24.0
_CROSS_MM: Final = 9.0
# A knob this near its target stands on it: the outline would only blur the knob's own.
_THERE_MM: Final = 0.5
_AWAY_PX: Final = (64.0, -44.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class KnobTarget:
    """What is drawn of a target; bodies are outlined."""

    bodies: tuple[Body, ...] = ()
    paths: tuple[Path, ...] = ()
    words: tuple[Word, ...] = ()


def knob_target(layout: Layout, step: Step) -> KnobTarget:
    """The knob's target on the steps that speak of it; nothing while nobody decided."""
    target = layout.knob_target_mm
    if target is None or step not in STEPS:
        return KnobTarget()
    shifter = next(iter(layout.of(Shifter)), None)
    met = shifter is not None and _near(gate_table(shifter)[0].knob_mm, target)
    radius = shifter.knob_radius_mm if shifter is not None else _USUAL_RADIUS_MM
    return KnobTarget(
        bodies=() if met else (_outlined(target, radius),),
        paths=(Path(points_mm=_cross(target), role="accent", width_px=1.6),),
        words=(Word(text=words.KNOB_TARGET, at_mm=target, away_px=_AWAY_PX),),
    )


def _near(one: Vector, other: Vector) -> bool:
    return float(np.linalg.norm(np.subtract(one, other))) < _THERE_MM


@functools.lru_cache(maxsize=8)
def _outlined(at_mm: Vector, radius_mm: float) -> Body:
    """The very same body for the same target, so that its outline is worked out once."""
    return (Solid(orb(radius_mm), Pose(shift_mm=at_mm)),)


def _cross(at_mm: Vector) -> np.ndarray:
    """Three short lines along the car's axes, (3, 2, 3) [mm]."""
    arms = np.eye(3) * _CROSS_MM
    return np.asarray(at_mm) + np.stack([-arms, arms], axis=1)
