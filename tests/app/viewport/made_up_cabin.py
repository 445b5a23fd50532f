"""A made-up cabin for the viewport's tests and benches: a bumpy floor with holes, a seat, a lever, an arm, a bottle."""

import numpy as np
from scipy.ndimage import gaussian_filter

from floorpan.frames import Pose
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.solids import Body, Hull, Solid, ball, box, capsule, frustum

HOLES = ((300.0, -420.0, 90.0), (700.0, 430.0, 100.0), (520.0, -165.0, 70.0))
LENGTH, HALF_WIDTH = 1300.0, 690.0


def height(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """Tunnel, ribs, a step to the rear floor, sills, firewall [mm]."""
    tunnel = 190.0 * np.exp(-((y / 130.0) ** 4))
    ribs = 6.0 * np.exp(-(((np.mod(y, 110.0) - 55.0) / 9.0) ** 4)) * (np.abs(y) > 180.0)
    step = 60.0 / (1.0 + np.exp(-(x - 900.0) / 18.0))
    sill = 110.0 / (1.0 + np.exp(-(np.abs(y) - 620.0) / 14.0))
    firewall = 240.0 / (1.0 + np.exp((x - 60.0) / 30.0))
    return tunnel + ribs + step + sill + firewall - 40.0


def floor_and_patches(triangles: int) -> tuple[Mesh, Mesh]:
    """The scan with its holes, and the patches that close them."""
    across = round(np.sqrt(triangles / 2.0))
    x, y = np.meshgrid(
        np.linspace(-60.0, LENGTH, across), np.linspace(-HALF_WIDTH, HALF_WIDTH, across), indexing="ij"
    )
    noise = gaussian_filter(np.random.default_rng(1).normal(0.0, 1.0, x.shape), 1.2) * 2.2
    points = np.stack([x, y, height(x, y) + noise], axis=-1).reshape(-1, 3)
    here = np.arange(len(points)).reshape(x.shape)
    a, b, c, d = here[:-1, :-1].ravel(), here[1:, :-1].ravel(), here[1:, 1:].ravel(), here[:-1, 1:].ravel()
    faces = np.concatenate([np.stack([a, b, c], axis=1), np.stack([a, c, d], axis=1)]).astype(np.int32)
    middle = points[faces].mean(axis=1)
    hole = np.zeros(len(faces), dtype=bool)
    for hole_x, hole_y, radius in HOLES:
        hole |= np.hypot(middle[:, 0] - hole_x, middle[:, 1] - hole_y) < radius
    mesh = Mesh(points, faces)
    return mesh.kept(~hole), mesh.kept(hole)


def seat() -> Body:
    back = [[1180, 180], [1260, 180], [1380, 760], [1450, 760]]
    corners = np.array([[x, y, z] for x, z in back for y in (-540, -200)], dtype=float)
    return Solid(box([760, -560, 60], [1240, -180, 200], 40.0)), Solid(Hull(corners, 35.0))


def lever() -> Body:
    return (
        Solid(box([420, -70, 150], [600, 70, 215], 8.0)),
        Solid(frustum(215.0, 300.0, 55.0, 28.0), Pose(shift_mm=(510.0, 0.0, 0.0))),
        Solid(capsule([510, 0, 290], [490, 0, 400], 7.0)),
    )


def knob() -> Body:
    return (Solid(ball([488, 0, 415], 24.0)),)


def arm() -> Body:
    shoulder, elbow, wrist, knuckles = [980, -330, 620], [760, -250, 420], [560, -60, 430], [500, -20, 440]
    return (
        Solid(capsule(shoulder, elbow, 52.0)),
        Solid(capsule(elbow, wrist, 40.0)),
        Solid(capsule(wrist, knuckles, 36.0)),
    )


_BOTTLE = (
    frustum(0.0, 120.0, 33.0, 33.0),
    frustum(120.0, 165.0, 33.0, 14.0),
    frustum(165.0, 200.0, 14.0, 14.0),
)


def bottle(x: float, y: float, z: float) -> Body:
    """Always of the same hulls, standing elsewhere."""
    return tuple(Solid(hull, Pose(shift_mm=(x, y, z))) for hull in _BOTTLE)
