"""Room to a surface of which only a grid of distances is kept, such as the scan's dash, on the careful side."""

import math

import numpy as np

from floorpan.advice.knob_limits import KnobLimit
from floorpan.errors import BadValue
from floorpan.frames import Floats, Vector

# Trilinear between samples of a true distance: each way along an axis changes it by one mm a mm at most, all three
# together by this.
STEEPNESS = math.sqrt(3.0)

# How far samples of a distance may differ beyond their spacing by rounding.
_ROUNDING = 1e-3


def lost_mm(spacing: float) -> float:
    """How far trilinear interpolation of exact distances can be from the distance, half a cell's diagonal [mm].

    With weights w at corners x, sum(w d(x)) - d(p) <= sum(w |x - p|), and that is sqrt(3) / 2 of the spacing at
    most, in the middle of a cell. A grid as coarse as that around a single point does lose all of it.
    """
    return math.sqrt(3.0) / 2.0 * spacing


def field_limit(
    name: str,
    field_origin: Vector,
    spacing: float,
    values: Floats,
    radius: float,
    sample_off_mm: float = 0.0,
    whole_inside: bool = False,
) -> KnobLimit:
    """The gap between a ball about the hand and a surface given by sampled distances; never more than the true gap.

    field_origin  : the place of values[0, 0, 0] in car axes [mm]; spacing [mm] the same in all three ways
    values        : (X, Y, Z) distances to the surface [mm], negative behind it; two samples or more each way. They
                    may be cut off above some distance.
    radius        : of the ball about the hand's centre [mm]
    sample_off_mm : how far a sample may be above the true distance [mm]
    whole_inside  : whether the sampled block holds the whole surface. Then a hand outside is as far away as the
                    block's face says and further; else what lies outside is unknown, and the room shrinks by a mm
                    with each mm beyond the face.

    Below the true gap it lies by 2 * lost_mm(spacing) + sample_off_mm at most inside the block (by sqrt(3) of the
    spacing, 17 mm for samples 10 mm apart; half of that beside a flat wall).

    Raises BadValue for samples that are no numbers or differ by more than the way between them: no distances.
    """
    samples = np.ascontiguousarray(values, dtype=float)
    _check(name, samples, spacing, (*field_origin, radius, sample_off_mm))
    origin = np.array(field_origin, dtype=float)
    top = np.array(samples.shape) - 1
    reach = radius + lost_mm(spacing) + sample_off_mm

    def margin(points: Floats) -> Floats:
        cells = (points - origin) / spacing
        held = np.clip(cells, 0.0, top)
        inside = _trilinear(samples, held)
        beyond = spacing * np.sqrt(((cells - held) ** 2).sum(axis=1))
        if not whole_inside:
            room: Floats = inside - beyond - reach
            return room
        # Off a convex block every point of it gets further away, at a right angle to the face or wider. The loss
        # goes off first, so that what is squared is no more than the distance.
        face = inside - lost_mm(spacing) - sample_off_mm
        further: Floats = np.where(face > 0.0, np.hypot(face, beyond), face + beyond)
        return further - radius

    return KnobLimit(name=name, margin=margin, steepness=STEEPNESS)


def _trilinear(samples: Floats, cells: Floats) -> Floats:
    """Values (N,) at places (N, 3) counted in samples, all of them within the block."""
    low = np.minimum(cells.astype(np.intp), np.array(samples.shape) - 2)
    x, y, z = (cells - low).T
    step_x, step_y = samples.shape[1] * samples.shape[2], samples.shape[2]
    flat = samples.ravel()
    at = low[:, 0] * step_x + low[:, 1] * step_y + low[:, 2]

    def along_z(start: np.ndarray[tuple[int], np.dtype[np.intp]]) -> Floats:
        first: Floats = flat[start]
        between: Floats = first + z * (flat[start + 1] - first)
        return between

    near = along_z(at)
    near += y * (along_z(at + step_y) - near)
    far = along_z(at + step_x)
    far += y * (along_z(at + step_x + step_y) - far)
    near += x * (far - near)
    return near


def _check(name: str, samples: Floats, spacing: float, numbers: tuple[float, ...]) -> None:
    if samples.ndim != 3 or min(samples.shape) < 2 or not np.isfinite(samples).all():
        raise BadValue(
            "samples-no-block", f"{name}: samples fill a block of numbers.", "Sample the surface again."
        )
    if not 0.0 < spacing < math.inf or not all(map(math.isfinite, numbers)) or min(numbers[3:]) < 0.0:
        raise BadValue("samples-no-place", f"{name}: samples lie some mm apart.", "Sample the surface again.")
    steps = [float(np.abs(np.diff(samples, axis=axis)).max()) for axis in range(3)]
    if max(steps) > spacing + _ROUNDING:
        raise BadValue(
            "samples-no-distances",
            f"{name}: two samples differ by more than the way between them.",
            "Sample distances to the surface itself.",
            most_mm=max(steps),
            spacing_mm=spacing,
        )
