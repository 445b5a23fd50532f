"""Thinning against what it promises; deviations against another library's nearest points and closed forms."""

import math
from collections import Counter

import numpy as np
import pytest
import trimesh
from numpy.typing import NDArray

from floorpan.errors import BadValue
from floorpan.geometry.deviation import deviation
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.thin import COUNT_WITHIN, thin, thin_to
from floorpan.progress import finish
from made_up_sheets import bent, sheet, tunnel_floor, without


def away(points: NDArray[np.float64], mesh: Mesh) -> NDArray[np.float64]:
    """Nearest distances by the general library's nearest point on a triangle, every triangle asked."""
    corners = mesh.points[mesh.faces]
    least = []
    for point in points:
        on = trimesh.triangles.closest_point(corners, np.broadcast_to(point, (len(corners), 3)))
        least.append(np.sqrt(np.square(on - point).sum(axis=1).min()))
    return np.array(least)


def triangles(mesh: Mesh) -> set[tuple[tuple[float, ...], ...]]:
    """Every triangle by its three points as they are, least first."""
    return {tuple(sorted(map(tuple, three))) for three in mesh.points[mesh.faces].tolist()}


def open_sides(mesh: Mesh) -> set[tuple[tuple[float, ...], ...]]:
    """Every edge that one triangle alone has, by its two points as they are; counted without the core's own edges."""
    sides = Counter(
        tuple(sorted((three[k - 1], three[k])))
        for three in mesh.faces.tolist()
        for k in range(3)
        if len(set(three)) == 3
    )
    return {
        tuple(sorted(tuple(mesh.points[end].tolist()) for end in ends))
        for ends, uses in sides.items()
        if uses == 1
    }


def floor() -> Mesh:
    """A rough tunnel floor with a hole."""
    return without(tunnel_floor(8.0, noise=0.3), (100, 100), (140, 140))


def marked(mesh: Mesh) -> NDArray[np.bool_]:
    """The faces in one corner, and one alone in the middle."""
    middle = mesh.points[mesh.faces].mean(axis=1)
    mask: NDArray[np.bool_] = (middle[:, 0] < -100.0) & (middle[:, 1] < -60.0)
    mask[np.abs(middle[:, :2] - [20.0, 30.0]).sum(axis=1).argmin()] = True
    return mask


class TestDeviation:
    def test_every_point_both_ways_against_another_library(self) -> None:
        mesh = floor()
        thinned = thin(mesh, 1500)
        both = np.concatenate(
            [
                away(mesh.points[np.unique(mesh.faces)], thinned.mesh),
                away(thinned.mesh.points[np.unique(thinned.mesh.faces)], mesh),
            ]
        )
        off = thinned.deviation
        assert off.points == len(both)
        assert off.mean_mm == pytest.approx(both.mean(), abs=1e-9)
        assert off.p99_mm == pytest.approx(np.percentile(both, 99.0), abs=1e-9)
        assert off.worst_mm == pytest.approx(both.max(), abs=1e-9)
        where = np.array([off.where_mm])
        assert max(away(where, mesh)[0], away(where, thinned.mesh)[0]) == pytest.approx(
            off.worst_mm, abs=1e-9
        )

    def test_a_sheet_above_another_and_a_bump(self) -> None:
        """A sheet 2 above another: 2 everywhere. A bump that only one of them has counts from its side, and is told."""
        one = sheet(100, 100, 10.0)
        other = Mesh(one.points + np.array([0.0, 0, 2.0]), one.faces)
        off = deviation(one, other)
        assert (off.mean_mm, off.p99_mm, off.worst_mm) == pytest.approx((2.0, 2.0, 2.0))
        bump = one.points.copy()
        bump[60, 2] = 9.0
        for first, second in ((one, Mesh(bump, one.faces)), (Mesh(bump, one.faces), one)):
            off = deviation(first, second)
            assert off.worst_mm == pytest.approx(9.0)
            assert off.where_mm == tuple(bump[60])
            assert off.mean_mm < 2.0 * 9.0 / off.points

    def test_points_that_no_face_uses_do_not_count(self) -> None:
        one = sheet(100, 100, 10.0)
        stray = Mesh(np.vstack([one.points, [[0.0, 0.0, 500.0]]]), one.faces)
        assert deviation(one, stray).worst_mm == 0.0

    def test_nothing_is_infinitely_far_from_something(self) -> None:
        nothing = Mesh(np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int32))
        assert deviation(sheet(), nothing).worst_mm == math.inf
        assert deviation(nothing, nothing).points == 0


class TestToACount:
    def test_fewer_faces_and_every_open_edge_to_the_last_bit(self) -> None:
        mesh = floor()
        thinned = thin(mesh, 1500)
        assert (thinned.before, thinned.after) == (len(mesh.faces), len(thinned.mesh.faces))
        assert 1400 < thinned.after <= 1530
        assert open_sides(thinned.mesh) == open_sides(mesh)
        off = thinned.deviation
        assert 0.0 < off.mean_mm < off.p99_mm < off.worst_mm < 3.0

    def test_a_level_sheet_loses_all_but_its_rim_and_nothing_strays(self) -> None:
        """A disk with n points on its rim and none inside has n - 2 triangles: no fewer can be left."""
        mesh = sheet(200, 200, 10.0)
        thinned = thin(mesh, 1)
        rim = len(open_sides(mesh))
        assert rim == 80
        assert rim - 2 <= thinned.after < 3 * rim
        assert thinned.deviation.worst_mm == pytest.approx(0.0, abs=1e-9)
        assert open_sides(thinned.mesh) == open_sides(mesh)

    def test_what_is_marked_comes_back_and_no_joint_opens(self) -> None:
        mesh = floor()
        mask = marked(mesh)
        thinned = thin(mesh, 1800, mask)
        assert thinned.after < 1900
        assert not triangles(mesh.kept(mask)) - triangles(thinned.mesh)
        assert open_sides(thinned.mesh) == open_sides(mesh)
        used = np.unique(thinned.mesh.faces)
        assert len(used) == len(thinned.mesh.points)

    def test_marked_faces_that_hang_on_a_fold_or_a_point_hold_it(self) -> None:
        """A fin on an inner edge, and a fan on an inner point: the sheet below has no open edge there."""
        flat = sheet(200, 200, 5.0)
        wavy = bent(flat, lambda x, y: 3.0 * np.sin(x / 9.0) * np.cos(y / 7.0))
        one, two = wavy.faces[len(wavy.faces) // 2, :2]
        alone = wavy.faces[len(wavy.faces) // 3, 0]
        first = len(wavy.points)
        points = np.vstack(
            [wavy.points, wavy.points[one] + [0.0, 0.0, 30.0], wavy.points[alone] + [[0, 1, 30], [1, 0, 30]]]
        )
        faces = np.vstack([wavy.faces, [[one, two, first], [alone, first + 1, first + 2]]])
        mesh = Mesh(points, faces)
        mask = np.arange(len(faces)) >= len(wavy.faces)
        thinned = thin(mesh, 700, mask)
        assert thinned.after < 800
        assert not triangles(mesh.kept(mask)) - triangles(thinned.mesh)
        assert open_sides(thinned.mesh) == open_sides(mesh)
        # The sheet still holds the point and the fold.
        rest = {tuple(p) for p in thinned.mesh.points[np.unique(thinned.mesh.faces[2:])]}
        assert {tuple(points[one]), tuple(points[two]), tuple(points[alone])} <= rest

    def test_a_small_mesh_comes_back_as_it_is(self) -> None:
        mesh = sheet()
        thinned = thin(mesh, 10**6)
        assert thinned.mesh is mesh
        assert thinned.whole
        assert thinned.deviation.worst_mm == 0.0

    def test_far_from_the_origin(self) -> None:
        mesh = tunnel_floor(5.0)
        far = Mesh(mesh.points + 1e6, mesh.faces)
        thinned = thin(far, 4000)
        assert thinned.deviation.worst_mm < 2.0
        assert open_sides(thinned.mesh) == open_sides(far)

    def test_faces_that_name_a_point_twice_hold_nothing(self) -> None:
        """One that lies on an open edge must not make that edge look shared."""
        mesh = tunnel_floor(8.0, noise=0.2)
        at = int(np.flatnonzero(mesh.faces[:, 0] == 0)[0])
        a, b, _ = mesh.faces[at].tolist()
        spoilt = Mesh(mesh.points, np.vstack([mesh.faces, [[a, a, b]], [[b, b, b]]]).astype(np.int32))
        assert open_sides(thin(spoilt, 1500).mesh) == open_sides(mesh)

    def test_what_cannot_be_asked_for(self) -> None:
        mesh = floor()
        with pytest.raises(BadValue, match="No triangle"):
            thin(mesh, 0)
        with pytest.raises(BadValue, match="untouched"):
            thin(mesh, 50, marked(mesh))
        with pytest.raises(BadValue, match="untouched"):
            thin(mesh, 50, np.ones(len(mesh.faces), dtype=bool))


class TestToADeviation:
    @pytest.mark.parametrize("worst", [0.25, 0.5, 1.0])
    def test_a_ball_to_a_stated_sagitta(self, worst: float) -> None:
        """A flat triangle whose corners and middle keep within s of a sphere of radius R spans a circle of radius h,
        h * h = (R + s)^2 - (R - s)^2 = 4 R s: no fewer than 4 pi R^2 / (3 sqrt(3) / 4 h^2) triangles do it."""
        radius = 100.0
        made = trimesh.creation.icosphere(subdivisions=4, radius=radius)
        mesh = Mesh(made.vertices, made.faces)
        thinned = finish(thin_to(mesh, worst))
        assert thinned.deviation.worst_mm <= worst
        assert away(mesh.points[::2], thinned.mesh).max() <= worst
        assert away(thinned.mesh.points, mesh).max() <= worst
        least = 4.0 * math.pi * radius / (3.0 * math.sqrt(3.0) * worst)
        assert 0.8 * least < thinned.after < 5.0 * least

    def test_a_little_fewer_strays_farther(self) -> None:
        mesh, worst = floor(), 1.2
        thinned = finish(thin_to(mesh, worst))
        assert 0.0 < thinned.deviation.worst_mm <= worst
        assert thinned.after < thinned.before / 2
        assert open_sides(thinned.mesh) == open_sides(mesh)
        fewer = [thin(mesh, int(thinned.after * share)) for share in (1.0 / (1.0 + 1.5 * COUNT_WITHIN), 0.9)]
        assert max(one.deviation.worst_mm for one in fewer) > worst

    def test_a_level_sheet_keeps_little_but_its_rim(self) -> None:
        mesh = sheet(400, 400, 5.0)
        thinned = finish(thin_to(mesh, 1e-6))
        rim = len(open_sides(mesh))
        assert rim - 2 <= thinned.after < 3 * rim
        assert thinned.deviation.worst_mm <= 1e-6

    def test_what_is_marked_stays_and_counts(self) -> None:
        mesh = floor()
        mask = marked(mesh)
        thinned = finish(thin_to(mesh, 1.2, mask))
        assert thinned.deviation.worst_mm <= 1.2
        assert mask.sum() < thinned.after < thinned.before
        assert not triangles(mesh.kept(mask)) - triangles(thinned.mesh)
        assert open_sides(thinned.mesh) == open_sides(mesh)
        everything = finish(thin_to(mesh, 1.2, np.ones(len(mesh.faces), dtype=bool)))
        assert everything.whole
        assert everything.mesh is mesh

    def test_where_even_a_light_thinning_strays_too_far_it_comes_back_whole(self) -> None:
        """Spikes of 40 mm everywhere: no point can go."""
        flat = sheet(100, 100, 5.0)
        points = flat.points.copy()
        points[:, 2] = np.random.default_rng(3).uniform(0.0, 40.0, len(points))
        spiky = Mesh(points, flat.faces)
        thinned = finish(thin_to(spiky, 1e-9))
        assert thinned.whole
        assert thinned.mesh is spiky
        assert thinned.deviation.worst_mm == 0.0

    @pytest.mark.parametrize("faces", [0, 1, 2])
    def test_hardly_any_faces(self, faces: int) -> None:
        one = sheet(10, 10, 10.0)
        few = Mesh(one.points, one.faces[:faces])
        thinned = finish(thin_to(few, 1.0))
        assert thinned.whole
        assert thinned.after == faces

    def test_told_as_it_goes_and_stopped_at_any_step(self) -> None:
        told: list[float] = []
        finish(thin_to(floor(), 1.0), lambda step: told.append(step.done))
        assert told[0] == 0.0
        assert told == sorted(told)
        assert told[-1] < 1.0
        assert max(np.diff(told)) < 0.5
        assert len(told) < 16
        work = thin_to(floor(), 1.0)
        next(work)
        work.close()
        with pytest.raises(StopIteration):
            next(work)

    @pytest.mark.parametrize("worst", [-1.0, math.nan, math.inf])
    def test_no_distance(self, worst: float) -> None:
        with pytest.raises(BadValue, match="no distance"):
            next(thin_to(sheet(), worst))
