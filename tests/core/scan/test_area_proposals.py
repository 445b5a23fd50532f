"""Proposed areas: against the invented car, whose solids say what each face belongs to, and against scenes that are
no cabin."""

from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from floorpan.frames import Pose
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.normals import face_areas, face_normals
from floorpan.progress import finish
from floorpan.sample.build import build_car
from floorpan.sample.panels import tunnel_axes
from floorpan.sample.plan import CarSizes
from floorpan.sample.scanner import simulate_scan
from floorpan.scan.area_proposals import ProposedArea
from floorpan.scan.area_proposals import propose_areas as proposing
from floorpan.scan.area_shapes import faces_in, moved, owners
from floorpan.scan.read import read_scan

Bools = NDArray[np.bool_]
COARSE_MM = 8.0


def propose_areas(mesh: Mesh) -> tuple[ProposedArea, ...]:
    return finish(proposing(mesh))


class Scanned:
    """A coarse scan of the invented car in car axes, and what each face truly is."""

    def __init__(self, *, with_seats: bool, side: str = "left") -> None:
        sizes = CarSizes(driver_side="left" if side == "left" else "right")
        scan = simulate_scan(sizes, 3, with_seats=with_seats, spacing_mm=COARSE_MM)
        self.mesh = Mesh(scan.in_car(), scan.faces)
        self.area = face_areas(self.mesh)
        normal = face_normals(self.mesh)
        middle = self.mesh.points[self.mesh.faces].mean(axis=1)
        labels = np.array(build_car(sizes, with_seats=with_seats).nearest_label(middle))
        mirror = np.array([1.0, sizes.passenger_sign, 1.0])
        axes = np.array(tunnel_axes(sizes))
        start = [0.0, sizes.tunnel_offset_mm, sizes.tunnel_height_mm]
        aside, over, _ = ((middle * mirror - start) @ axes.T).T
        up = (normal * mirror) @ axes[1]
        tunnel = labels == "tunnel"
        self.dash: Bools = labels == "dash"
        self.truth: dict[str, Bools] = {
            "tunnel top": tunnel & (over > -4.0) & (up > 0.8),
            "tunnel flank": tunnel & (np.abs(aside) > sizes.tunnel_top_width_mm / 2) & (up < 0.6),
            "floor": np.isin(labels, ["floor", "weld lip", "cross-member", "stud", "seat bolt"]),
            "dash": (labels == "dash") & (normal[:, 2] < -0.6),
        }

    def share(self, one: Bools, of: Bools) -> float:
        """How much of the area of a mask another holds."""
        return float(self.area[one & of].sum() / self.area[of].sum())


@pytest.mark.parametrize(
    ("with_seats", "side"),
    [
        (True, "left"),
        pytest.param(False, "left", marks=pytest.mark.long),
        pytest.param(True, "right", marks=pytest.mark.long),
    ],
)
def test_the_areas_of_the_invented_car(with_seats: bool, side: str) -> None:
    car = Scanned(with_seats=with_seats, side=side)
    found = propose_areas(car.mesh)
    assert [one.kind for one in found] == ["floor", "tunnel flank", "tunnel flank", "tunnel top", "dash"]
    assert (np.sum([one.faces for one in found], axis=0) <= 1).all()
    for kind, true in car.truth.items():
        faces = np.any([one.faces for one in found if one.kind == kind], axis=0)
        # Of what is proposed this much is right, and of what is true this much is proposed.
        assert car.share(true, faces) > 0.96, kind
        assert car.share(faces, true) > 0.95, kind
    left, right = (one.faces for one in found if one.kind == "tunnel flank")
    y = car.mesh.points[car.mesh.faces].mean(axis=1)[:, 1]
    assert y[left].max() < y[right].min()
    assert all(one.why.endswith(".") for one in found)


@pytest.mark.long
def test_their_outlines_hold_what_was_meant_in_the_scans_own_coordinates() -> None:
    car = Scanned(with_seats=True)
    to_scan = Pose.turned((0.2, 0.9, -0.4), 25.0, (100.0, 50.0, -30.0))
    own = car.mesh.moved(to_scan.matrix())
    found = propose_areas(car.mesh)
    drawn = [[moved(shape, to_scan) for shape in one.shapes] for one in found]
    owner = owners(own, drawn)
    for number, one in enumerate(found):
        assert (faces_in(own, drawn[number]) == faces_in(car.mesh, one.shapes)).mean() > 0.9999
        mine = np.isin(owner, [k for k in range(len(found)) if found[k].kind == one.kind])
        assert car.share(mine, one.faces) > 0.95, one.kind
        # An outline takes the rounded edges along; of the dash they are dash too.
        assert car.share(car.dash if one.kind == "dash" else car.truth[one.kind], mine) > 0.90, one.kind


@pytest.mark.parametrize(
    "name",
    [
        "scans_depthcam/depthcam_boxes_and_cylinders.ply",
        "scans_depthcam/depthcam_stacked_boxes.ply",
        "scans_depthcam/depthcam_three_cylinders.ply",
        "scans_depthcam/depthcam_two_round_objects.ply",
    ],
)
def test_a_table_with_things_on_it_is_no_cabin(name: str, shared_data: Path) -> None:
    # Scenes of the Object Segmentation Database (BSD-3-Clause), as they are and with the table laid level.
    raw = finish(read_scan(shared_data / name))
    mesh = raw.mesh
    assert propose_areas(mesh) == ()
    up = _table_normal(mesh)
    for sign in (1.0, -1.0):
        for turn_deg in (0.0, 60.0, 120.0):
            laid = Pose.turned((0.0, 0.0, 1.0), turn_deg).after(_upright(sign * up))
            level = mesh.moved(laid.matrix())
            level = level.moved(Pose(shift_mm=_back(level)).matrix())
            assert propose_areas(level) == ()
            assert propose_areas(Mesh(level.points, level.faces[:, ::-1])) == ()


def test_a_floor_without_a_tunnel_tells_nothing() -> None:
    side = np.linspace(-700.0, 700.0, 71)
    x, y = np.meshgrid(side, side, indexing="ij")
    n = np.arange(x.size).reshape(x.shape)
    a, b, c, d = n[:-1, :-1], n[1:, :-1], n[1:, 1:], n[:-1, 1:]
    faces = np.concatenate([np.stack([a, b, c], -1).reshape(-1, 3), np.stack([a, c, d], -1).reshape(-1, 3)])
    flat = np.column_stack([x.ravel(), y.ravel(), np.zeros(x.size)])
    assert propose_areas(Mesh(flat, faces.astype(np.int32))) == ()
    assert propose_areas(Mesh(np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int32))) == ()
    # The same floor with a ridge of the trade's usual size along it does.
    ridge = flat.copy()
    ridge[:, 2] = 200.0 * np.clip((150.0 - np.abs(ridge[:, 1])) / 70.0, 0.0, 1.0)
    assert [one.kind for one in propose_areas(Mesh(ridge, faces.astype(np.int32)))] == [
        "floor",
        "tunnel flank",
        "tunnel flank",
        "tunnel top",
    ]
    # A ridge as short as a box is none.
    ridge[np.abs(ridge[:, 0]) > 150.0, 2] = 0.0
    assert propose_areas(Mesh(ridge, faces.astype(np.int32))) == ()


def _table_normal(mesh: Mesh) -> NDArray[np.float64]:
    """The direction that most of the surface looks along, either way."""
    normal, area = face_normals(mesh), face_areas(mesh)
    trial = normal[:: max(len(normal) // 400, 1)]
    held = (np.abs(normal @ trial.T) > 0.97).T @ area
    best = trial[int(held.argmax())]
    near = np.abs(normal @ best) > 0.97
    mean: NDArray[np.float64] = (normal[near] * (np.sign(normal[near] @ best) * area[near])[:, None]).sum(
        axis=0
    )
    return mean / np.linalg.norm(mean)


def _upright(up: NDArray[np.float64]) -> Pose:
    aside = np.cross(up, [1.0, 0.0, 0.0])
    aside /= np.linalg.norm(aside)
    matrix = np.eye(4)
    matrix[:3, :3] = np.stack([np.cross(aside, up), aside, up])
    return Pose.from_matrix(matrix)


def _back(mesh: Mesh) -> tuple[float, float, float]:
    x, y, z = (-mesh.points.mean(axis=0)).tolist()
    return x, y, z
