"""Shapes of areas against closed forms, whatever way the scan lies and in whatever order its faces come."""

import math
from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from floorpan.errors import BadValue
from floorpan.frames import Pose
from floorpan.geometry.mesh import Mesh
from floorpan.scan.area_shapes import (
    NOBODY,
    AreaShape,
    BoxShape,
    PrismShape,
    Stroke,
    faces_in,
    moved,
    owners,
    points_in,
)

SQUARE = ((-50.0, -50.0), (50.0, -50.0), (50.0, 50.0), (-50.0, 50.0))
# A Z-up frame turned and shifted, so that no axis agrees with the scan's.
TURNED = Pose.turned((0.3, -0.5, 0.8), 37.0).after(Pose(shift_mm=(30.0, -20.0, 10.0)))


def level(wide_mm: float, cells: int) -> Mesh:
    """A square level sheet about the origin."""
    side = np.linspace(-wide_mm / 2, wide_mm / 2, cells + 1)
    x, y = np.meshgrid(side, side, indexing="ij")
    n = np.arange(x.size).reshape(x.shape)
    a, b, c, d = n[:-1, :-1], n[1:, :-1], n[1:, 1:], n[:-1, 1:]
    faces = np.concatenate([np.stack([a, b, c], -1).reshape(-1, 3), np.stack([a, c, d], -1).reshape(-1, 3)])
    return Mesh(np.column_stack([x.ravel(), y.ravel(), np.zeros(x.size)]), faces.astype(np.int32))


def area_mm2(mesh: Mesh, mask: NDArray[np.bool_]) -> float:
    corner = mesh.points[mesh.faces[mask]]
    return float(
        np.linalg.norm(np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]), axis=1).sum() / 2
    )


@pytest.mark.parametrize("frame", [Pose(), TURNED])
@pytest.mark.parametrize(
    ("shape", "true_mm2"),
    [
        (
            AreaShape(box=BoxShape(least_mm=(-50.0, -50.0, -5.0), greatest_mm=(50.0, 50.0, 5.0))),
            100.0 * 100.0,
        ),
        (AreaShape(prism=PrismShape(frame=Pose(), corners_mm=SQUARE)), 100.0 * 100.0),
        (AreaShape(prism=PrismShape(frame=Pose(), corners_mm=SQUARE[:3])), 100.0 * 100.0 / 2),
        (AreaShape(stroke=Stroke(at_mm=((0.0, 0.0, 0.0),), radius_mm=60.0)), math.pi * 60.0**2),
        (
            AreaShape(stroke=Stroke(at_mm=((-70.0, 0.0, 0.0), (70.0, 0.0, 0.0)), radius_mm=60.0)),
            2 * math.pi * 60.0**2,
        ),
    ],
)
def test_a_shape_covers_its_area_wherever_the_scan_lies(
    shape: AreaShape, true_mm2: float, frame: Pose
) -> None:
    mesh = level(400.0, 200).moved(frame.matrix())
    held = faces_in(mesh, [moved(shape, frame)])
    assert area_mm2(mesh, held) == pytest.approx(true_mm2, rel=0.02)


def test_an_outline_goes_as_deep_as_it_is_told() -> None:
    points = np.array([[0.0, 0.0, z] for z in (-30.0, -10.0, 0.0, 10.0, 30.0)])
    through = AreaShape(prism=PrismShape(frame=Pose(), corners_mm=SQUARE))
    shallow = AreaShape(prism=PrismShape(frame=Pose(), corners_mm=SQUARE, deep_mm=(-10.0, 5.0)))
    assert points_in(points, [through]).all()
    assert points_in(points, [shallow]).tolist() == [False, True, True, False, False]


def test_the_later_shape_wins_and_an_eraser_takes_away() -> None:
    box = AreaShape(box=BoxShape(least_mm=(-50.0, -50.0, -5.0), greatest_mm=(50.0, 50.0, 5.0)))
    rubber = AreaShape(stroke=Stroke(at_mm=((0.0, 0.0, 0.0),), radius_mm=20.0), takes_away=True)
    dab = AreaShape(stroke=Stroke(at_mm=((0.0, 0.0, 0.0),), radius_mm=5.0))
    points = np.array([[0.0, 0.0, 0.0], [10.0, 0.0, 0.0], [30.0, 0.0, 0.0], [60.0, 0.0, 0.0]])
    assert points_in(points, [box, rubber, dab]).tolist() == [True, False, True, False]
    assert points_in(points, [rubber, box]).tolist() == [True, True, True, False]
    assert not points_in(points, []).any()


def test_a_stroke_paints_the_large_face_it_runs_over() -> None:
    mesh = level(400.0, 1)
    held = faces_in(mesh, [AreaShape(stroke=Stroke(at_mm=((150.0, 40.0, 0.0),), radius_mm=10.0))])
    # The diagonal of the sheet runs from least to greatest corner: y below x is the first face.
    assert held.tolist() == [True, False]


def test_owners_the_later_area_wins_and_what_stands_for_a_thing_yields() -> None:
    mesh = level(100.0, 10)
    whole = [AreaShape(box=BoxShape(least_mm=(-50.0, -50.0, -5.0), greatest_mm=(50.0, 50.0, 5.0)))]
    right = [AreaShape(box=BoxShape(least_mm=(-50.0, 0.0, -5.0), greatest_mm=(50.0, 30.0, 5.0)))]
    middle = mesh.points[mesh.faces].mean(axis=1)
    inner = (middle[:, 1] > 0.0) & (middle[:, 1] < 30.0)
    assert (owners(mesh, [whole, right]) == np.where(inner, 1, 0)).all()
    assert (owners(mesh, [right, whole]) == 1).all()
    assert (owners(mesh, [right, whole], yields=[False, True]) == np.where(inner, 0, 1)).all()
    assert (owners(mesh, [right]) == np.where(inner, 0, NOBODY)).all()


def test_areas_hold_when_the_scan_is_read_again_in_another_order() -> None:
    mesh = level(400.0, 60)
    stroke = AreaShape(stroke=Stroke(at_mm=((0.0, 0.0, 0.0), (20.0, 5.0, 0.0)), radius_mm=30.0))
    order = np.random.default_rng(1).permutation(len(mesh.faces))
    again = Mesh(mesh.points, mesh.faces[order])
    assert (faces_in(again, [stroke]) == faces_in(mesh, [stroke])[order]).all()


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: AreaShape(),
        lambda: replace(
            AreaShape(stroke=Stroke(at_mm=((0.0, 0.0, 0.0),), radius_mm=5.0)),
            box=BoxShape(least_mm=(0.0, 0.0, 0.0), greatest_mm=(1.0, 1.0, 1.0)),
        ),
        lambda: PrismShape(frame=Pose(), corners_mm=SQUARE[:2]),
        lambda: PrismShape(frame=Pose(), corners_mm=(SQUARE[0], SQUARE[2], SQUARE[1], SQUARE[3])),
        lambda: Stroke(at_mm=(), radius_mm=5.0),
        lambda: Stroke(at_mm=((0.0, 0.0, 0.0),), radius_mm=0.0),
        lambda: Stroke(at_mm=((math.nan, 0.0, 0.0),), radius_mm=5.0),
    ],
)
def test_a_shape_that_is_none_is_refused(wrong: object) -> None:
    assert callable(wrong)
    with pytest.raises(BadValue):
        wrong()
