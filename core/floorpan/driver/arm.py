"""A two-link arm in closed form: shoulder to elbow, elbow to the centre of the grip.

The links are calibrated so that together they are the straight arm as taped: adding a shoulder-elbow and an
elbow-grip length that both run round the elbow makes an arm some 45 mm too long.
"""

import math
from dataclasses import dataclass

import numpy as np

from floorpan.errors import BadValue
from floorpan.frames import Floats, Vector, vector_of

# Elbow flexion 143 degrees from straight (Boone and Azen, men): the closest upper arm and forearm come.
ELBOW_LEAST_DEG = 180.0 - 143.0

_NOTHING_MM = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Arm:
    """A posed arm in car axes [mm]; the links always keep their lengths and the hand is always on the grip.

    shoulder_mm : where the shoulder has to be; the given one wherever the arm reaches
    elbow_deg   : between the links, 180 is straight
    spare_mm    : straight arm less shoulder-to-grip; negative is how far the shoulder has to come along
    bends       : whether the elbow can bend that far
    """

    shoulder_mm: Vector
    elbow_mm: Vector
    wrist_mm: Vector
    grip_mm: Vector
    elbow_deg: float
    spare_mm: float
    bends: bool


def arm(
    shoulder: Vector,
    grip: Vector,
    upper_mm: float,
    lower_mm: float,
    swivel_deg: float = 0.0,
    wrist_to_grip_mm: float = 62.0,
) -> Arm:
    """Pose the arm from a shoulder point to a grip.

    swivel_deg : the elbow's place on its circle, turned from hanging straight down about the line from
                 shoulder to grip by the right hand rule

    Raises BadValue where a link has no length.
    """
    if upper_mm <= 0.0 or lower_mm <= 0.0:
        raise BadValue("no-arm", "An arm has two links.", "Tape upper arm and straight arm again.")
    start, end = np.asarray(shoulder, dtype=float), np.asarray(grip, dtype=float)
    given = float(np.linalg.norm(end - start))
    way = (end - start) / given if given > _NOTHING_MM else np.array([0.0, 0.0, -1.0])
    span = min(max(given, abs(upper_mm - lower_mm)), upper_mm + lower_mm)
    if span != given:
        start = end - span * way
    along, off = _elbow_circle(span, upper_mm, lower_mm)
    elbow = start + along * way + off * hanging(way, swivel_deg)
    wrist = end + wrist_to_grip_mm * (elbow - end) / lower_mm
    angle = elbow_deg(span, upper_mm, lower_mm)
    return Arm(
        shoulder_mm=vector_of(start),
        elbow_mm=vector_of(elbow),
        wrist_mm=vector_of(wrist),
        grip_mm=vector_of(end),
        elbow_deg=angle,
        spare_mm=upper_mm + lower_mm - given,
        bends=given >= abs(upper_mm - lower_mm) and angle >= ELBOW_LEAST_DEG,
    )


def elbow_deg(span_mm: float, upper_mm: float, lower_mm: float) -> float:
    """The elbow's angle by the law of cosines: 180 straight and beyond, 0 nearer than the hand can come."""
    cosine = (upper_mm**2 + lower_mm**2 - span_mm**2) / (2 * upper_mm * lower_mm)
    return math.degrees(math.acos(min(max(cosine, -1.0), 1.0)))


def _elbow_circle(span: float, upper: float, lower: float) -> tuple[float, float]:
    """How far along the line from shoulder to grip the elbow's circle lies, and its radius."""
    if span <= _NOTHING_MM:
        return 0.0, upper
    along = (upper**2 - lower**2 + span**2) / (2 * span)
    return along, math.sqrt(max(upper**2 - along**2, 0.0))


def hanging(way: Floats, swivel_deg: float = 0.0) -> Floats:
    """The unit vector (3,) square to `way` that hangs down, turned about it; rearward for an upright way."""
    x, y, z = (float(part) for part in way)
    # Down, or rearward, less what of it lies along the way.
    hang = (z * x, z * y, z * z - 1.0)
    length = math.hypot(*hang)
    if length < 1e-6:
        hang = (1.0 - x * x, -x * y, -x * z)
        length = math.hypot(*hang)
    a, b, c = (part / length for part in hang)
    cosine, sine = math.cos(math.radians(swivel_deg)), math.sin(math.radians(swivel_deg))
    aside = (y * c - z * b, z * a - x * c, x * b - y * a)
    turned: Floats = np.array(
        [cosine * down + sine * across for down, across in zip((a, b, c), aside, strict=True)]
    )
    return turned
