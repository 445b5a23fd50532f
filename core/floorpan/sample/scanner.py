"""The simulated handheld scan: what a scanner held at several places returns of the invented car.

The surface is exact; what the scan adds is what scans add: shadows and patches without return, noise along the
ray, a slow drift between the places it was held at, scraps in the air, and axes of its own.
"""

from dataclasses import dataclass, replace

import numpy as np

from floorpan.sample.blocks import Places, cut_up
from floorpan.sample.build import build_car
from floorpan.sample.lost import black_patches, specks
from floorpan.sample.meshes import compacted, shrunk, spread, without_small_parts
from floorpan.sample.plan import CarSizes
from floorpan.sample.shapes import Floats, turned
from floorpan.sample.surface import Faces, Surface, surface_of
from floorpan.sample.views import VIEWPOINTS_MM, look

SPACING_MM = 5.4
NOISE_SIGMA_MM = 0.15
MOST_DRIFT_MM = 0.45
# A scrap that the scanner's own clean-up would drop; the specks are added after it.
_LEAST_FACES = 150
_MARGIN_MM = 10.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Scan:
    """A scan in axes of its own.

    points : (N, 3) mm, in the scan's frame; faces : (M, 3), turned towards free space
    pose : (4, 4), from the scan's frame to car axes, true; specks : how many scraps float in it
    """

    points: Floats
    faces: Faces
    pose: Floats
    specks: int

    def in_car(self) -> Floats:
        """The points (N, 3) in car axes, noise and drift included."""
        return moved(self.points, self.pose)


def simulate_scan(
    sizes: CarSizes, seed: int, *, with_seats: bool = True, spacing_mm: float = SPACING_MM
) -> Scan:
    """Scan the car. The same sizes and seed give the same scan; without seats, the bare floor.

    Right-hand drive is scanned as the mirror image, then put in the same axes.
    """
    # Own streams for own matters, so that one more draw in one changes no other.
    pose_draws, white_draws, drift_draws, speck_draws = (
        np.random.Generator(np.random.PCG64(part)) for part in np.random.SeedSequence(seed).spawn(4)
    )
    left = replace(sizes, driver_side="left")
    surface, view = seen_surface(left, with_seats=with_seats, spacing_mm=spacing_mm)
    eyes = np.array(VIEWPOINTS_MM)
    points = (
        surface.points
        + _along_rays(surface.points, eyes[view], white_draws)
        + _drift(surface.points, eyes, drift_draws)
    )
    faces = surface.faces
    scraps = specks(build_car(left, with_seats=with_seats), speck_draws)
    for scrap_points, scrap_faces in scraps:
        faces = np.concatenate((faces, scrap_faces + np.int32(len(points))))
        points = np.concatenate((points, scrap_points))
    if sizes.driver_side == "right":
        points, faces = points * np.array((1.0, -1.0, 1.0)), faces[:, ::-1].copy()
    pose = _scan_pose(pose_draws)
    return Scan(points=moved(points, undone(pose)), faces=faces, pose=pose, specks=len(scraps))


def seen_surface(sizes: CarSizes, *, with_seats: bool, spacing_mm: float) -> tuple[Surface, Places]:
    """The exact surface of a left-hand drive car as far as it is seen, and the viewpoint of every point (N,)."""
    car = build_car(sizes, with_seats=with_seats)
    low = np.array((sizes.front_x_mm + 1.7, -sizes.half_width_mm + 2.3, -11.7))
    high = np.array((sizes.rear_x_mm - 2.0, sizes.half_width_mm - 2.0, sizes.roof_line_z_mm))
    blocks = cut_up(car, low, high, spacing_mm, _MARGIN_MM)
    surface = surface_of(blocks)
    sight = look(surface, blocks, np.array(VIEWPOINTS_MM))
    # A scanner bridges gaps of a point or two and keeps no strips that narrow.
    seen = shrunk(spread(sight.seen, surface.faces), surface.faces)
    seen = spread(shrunk(seen, surface.faces), surface.faces) & seen
    for patch in black_patches(sizes):
        seen &= patch.distance(surface.points) > _ragged(surface.points)
    faces = surface.faces[seen[surface.faces].all(axis=1)]
    faces = without_small_parts(faces, len(seen), _LEAST_FACES)
    kept = np.zeros(len(seen), dtype=np.bool_)
    kept[faces.ravel()] = True
    points, faces = compacted(surface.points, faces)
    view = np.where(sight.view >= 0, sight.view, sight.would)
    return Surface(points, surface.normals[kept], faces), view[kept]


def moved(points: Floats, pose: Floats) -> Floats:
    """Points (N, 3) after a pose (4, 4)."""
    x, y, z = points[:, 0], points[:, 1], points[:, 2]
    return np.stack([row[0] * x + row[1] * y + row[2] * z + row[3] for row in pose[:3]], axis=1)


def undone(pose: Floats) -> Floats:
    """The pose (4, 4) that undoes a rigid one."""
    back = np.eye(4)
    back[:3, :3] = pose[:3, :3].T
    back[:3, 3] = -np.sum(pose[:3, :3] * pose[:3, 3, None], axis=0)
    return back


def _ragged(points: Floats) -> Floats:
    """How far beyond a black patch the scan stops, 1 to 9 mm, so that its edge is no straight line."""
    wave = np.sin(0.31 * points[:, 0] + 0.17 * points[:, 1]) * np.cos(0.23 * points[:, 2])
    return np.asarray(5.0 + 4.0 * wave)


def _along_rays(points: Floats, eyes: Floats, random: np.random.Generator) -> Floats:
    ray = points - eyes
    ray = ray / np.sqrt(np.sum(ray * ray, axis=1))[:, None]
    return np.asarray(random.normal(scale=NOISE_SIGMA_MM, size=len(points))[:, None] * ray)


def _drift(points: Floats, eyes: Floats, random: np.random.Generator) -> Floats:
    """What wrong poses of the viewpoints (V, 3) do to points (N, 3): each is off by a small shift and turn."""
    shifts = random.normal(scale=0.14, size=eyes.shape)
    turns = random.normal(scale=0.0002, size=eyes.shape)
    total, weights = np.zeros_like(points), np.zeros(len(points))
    for eye, shift, turn in zip(eyes, shifts, turns, strict=True):
        arm = points - eye
        weight = 1.0 / np.square(np.sum(arm * arm, axis=1))
        total += weight[:, None] * (shift + np.cross(turn, arm))
        weights += weight
    drift = total / weights[:, None]
    length = np.sqrt(np.sum(drift * drift, axis=1))
    return np.asarray(drift * np.minimum(1.0, MOST_DRIFT_MM / np.maximum(length, 1e-12))[:, None])


def _scan_pose(random: np.random.Generator) -> Floats:
    """From the scan's frame to car axes: some degrees about every axis and some hundred mm."""
    sign = random.choice((-1.0, 1.0), size=6)
    about_x, about_y, about_z = sign[:3] * random.uniform(4.0, 16.0, size=3)
    place = turned((0.0, 0.0, 0.0), about_z_deg=about_z, about_y_deg=about_y, about_x_deg=about_x)
    pose = np.eye(4)
    pose[:3, :3] = np.asarray(place.axes).T
    pose[:3, 3] = sign[3:] * random.uniform(200.0, 700.0, size=3)
    return pose
