"""What a scan of the car lacks and what it has too much of: black patches and floating specks."""

import math
from dataclasses import replace

import numpy as np

from floorpan.sample.car import Car
from floorpan.sample.panels import tunnel_axes
from floorpan.sample.plan import CarSizes
from floorpan.sample.shapes import Floats, Placement, RoundedBox, Triple
from floorpan.sample.surface import Faces

# The flank patch lies where a console's foot stands on the passenger side, the other under the handbrake.
_FLANK_X_MM = (420.0, 520.0)
_HANDBRAKE_X_MM = (570.0, 680.0)


def black_patches(sizes: CarSizes) -> tuple[RoundedBox, RoundedBox]:
    """The parts of the tunnel that send nothing back: black and shiny on the passenger flank, greasy under the
    handbrake. What of the surface lies within one of these boxes is not in the scan."""
    left = replace(sizes, driver_side="left")
    flank, top = _flank_patch(left), _handbrake_patch(left)
    return (flank, top) if sizes.driver_side == "left" else (flank.mirrored(), top.mirrored())


def _flank_patch(sizes: CarSizes) -> RoundedBox:
    across, up, along = tunnel_axes(sizes)
    angle = math.radians(sizes.tunnel_flank_deg)
    deep = 45.0
    aside = sizes.tunnel_top_width_mm / 2.0 + deep / math.tan(angle)
    x, y, z = sizes.on_tunnel(sum(_FLANK_X_MM) / 2.0)
    up_flank = _blend(across, -math.cos(angle), up, math.sin(angle))
    off_flank = _blend(across, math.sin(angle), up, math.cos(angle))
    return RoundedBox(
        label="black patch",
        placement=Placement(
            origin_mm=_blend((x, y, z), 1.0, _blend(across, aside, up, -deep), 1.0),
            axes=(up_flank, along, off_flank),
        ),
        half_mm=(24.0, (_FLANK_X_MM[1] - _FLANK_X_MM[0]) / 2.0, 12.0),
        radius_mm=12.0,
    )


def _handbrake_patch(sizes: CarSizes) -> RoundedBox:
    across, up, along = tunnel_axes(sizes)
    x, y, z = sizes.on_tunnel(sum(_HANDBRAKE_X_MM) / 2.0)
    return RoundedBox(
        label="black patch",
        placement=Placement(origin_mm=(x, y - sizes.handbrake_offset_mm, z), axes=(along, across, up)),
        half_mm=((_HANDBRAKE_X_MM[1] - _HANDBRAKE_X_MM[0]) / 2.0, 26.0, 12.0),
        radius_mm=12.0,
    )


def _blend(a: Triple, of_a: float, b: Triple, of_b: float) -> Triple:
    x, y, z = (of_a * p + of_b * q for p, q in zip(a, b, strict=True))
    return (x, y, z)


def specks(car: Car, random: np.random.Generator) -> list[tuple[Floats, Faces]]:
    """6 to 10 scraps of 6 to 60 triangles that hang in the air at the sides, away from tunnel, console and lever."""
    wanted = int(random.integers(6, 11))
    centres: list[Floats] = []
    while len(centres) < wanted:
        at = random.uniform((-150.0, 270.0, 130.0), (850.0, 560.0, 600.0))
        at[1] *= random.choice((-1.0, 1.0))
        apart = min((float(np.abs(at - other).max()) for other in centres), default=math.inf)
        if 40.0 < float(car.distance(at[None])[0]) < 160.0 and apart > 60.0:
            centres.append(at)
    return [_speck(at, random) for at in centres]


def _speck(at: Floats, random: np.random.Generator) -> tuple[Floats, Faces]:
    rows, columns = int(random.integers(1, 6)), int(random.integers(3, 7))
    u, v = (
        grid.ravel() for grid in np.meshgrid(np.arange(rows + 1.0), np.arange(columns + 1.0), indexing="ij")
    )
    first, second = random.normal(size=(2, 3))
    first = first / np.sqrt(np.sum(first * first))
    second = second - np.sum(second * first) * first
    second = second / np.sqrt(np.sum(second * second))
    points = at + 3.0 * ((u - rows / 2.0)[:, None] * first + (v - columns / 2.0)[:, None] * second)
    corner = (np.arange(rows)[:, None] * (columns + 1) + np.arange(columns)).ravel()
    beyond = corner + columns + 1
    faces = np.concatenate(
        (
            np.stack((corner, beyond, corner + 1), axis=1),
            np.stack((beyond, beyond + 1, corner + 1), axis=1),
        )
    )
    return points + random.normal(scale=0.6, size=points.shape), faces.astype(np.int32)
