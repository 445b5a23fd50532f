"""Where the doubt in a gap comes from, part by part."""

import itertools
import math

import numpy as np

from floorpan.checks.finding import Doubt, combined
from floorpan.derive import Floor
from floorpan.frames import Vector
from floorpan.geometry.mesh import Floats
from floorpan.geometry.noise import noise_bound_mm
from floorpan.geometry.solids import Body

TAPE_MM = 0.5
"""One sigma of a size or place read off a tape; common practice, no source: a tape is read to 1 mm."""


ON_BRIDGE_MM = 1e-6
"""A place no farther from a bridge than rounding lies on it."""


def tape(name: str, count: int = 1) -> Doubt:
    """Doubt of `count` independent taped sizes that a gap rests on."""
    return Doubt(name, standard=TAPE_MM * math.sqrt(count))


def facets(*bodies: Body) -> tuple[Doubt, ...]:
    """How far the straight sides of round things may stand outside them [mm]."""
    most = sum(max((solid.hull.facet_mm for solid in body), default=0.0) for body in bodies)
    return (Doubt("facets", bound=most),) if most > 0.0 else ()


def axes_tilt(floor: Floor, at_mm: Vector) -> tuple[Doubt, ...]:
    """Doubt of a place for the axes' tilt, which grows with the arm; none where they were given."""
    if floor.axes is None:
        return ()
    arm = float(np.linalg.norm(np.asarray(at_mm) - np.asarray(floor.centre_mm)))
    return (Doubt("axes", standard=arm * math.radians(floor.axes.u_deg) / 2),)


def joining(floor: Floor, at_mm: Vector) -> tuple[Doubt, ...]:
    """Doubt of a place for how its scan was joined to the one with the axes; none for that one itself."""
    if floor.joined is None:
        return ()
    return (Doubt("joining", standard=floor.joined.doubt_mm(np.asarray(at_mm))),)


def bridge(floor: Floor, at_mm: Vector) -> tuple[Doubt, ...]:
    """Doubt of a place that nobody saw and a bridge closes; none elsewhere."""
    if floor.bridges is None:
        return ()
    away = abs(float(floor.bridges.signed(np.array([at_mm])).distance_mm[0]))
    return (Doubt("bridge", bound=floor.bridges_u_mm),) if away < ON_BRIDGE_MM else ()


def of_scan(floor: Floor, good_to_mm: float, at_mm: Vector, body: Body) -> tuple[Doubt, ...]:
    """Doubt of a place on the scan: its own accuracy, its join, the axes' tilt times the arm, the noise there."""
    found = [Doubt("scan", standard=good_to_mm / 2)]
    found += joining(floor, at_mm)
    found += bridge(floor, at_mm)
    found += axes_tilt(floor, at_mm)
    round_body = all(len(solid.hull.points) == 1 for solid in body)
    bound = noise_bound_mm(floor.rough.at(np.asarray(at_mm)), "ball" if round_body else "flat")
    found.append(Doubt("noise", bound=bound))
    return tuple(found)


def most_of_scan(floor: Floor, good_to_mm: float, bounds: Floats) -> tuple[Doubt, ...]:
    """As `of_scan`, but no place between two corners (2, 3) [mm] has more, whatever body is near it."""
    found = [Doubt("scan", standard=good_to_mm / 2)]
    # Both that differ from place to place grow with the distance from a point: a corner has the most.
    for x, y, z in itertools.product(*bounds.T.tolist()):
        there = (*joining(floor, (x, y, z)), *axes_tilt(floor, (x, y, z)))
        if combined(there) > combined(tuple(found[1:])):
            found[1:] = there
    if floor.bridges is not None:
        found.append(Doubt("bridge", bound=floor.bridges_u_mm))
    found.append(Doubt("noise", bound=noise_bound_mm(floor.rough.most_mm(), "flat")))
    return tuple(found)
