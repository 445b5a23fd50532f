"""Planes and rigid moves: numbers worked out by hand or by two independent codes (check values 9.01 to 9.07)."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation

from floorpan.geometry.fit import RigidFit, fit_plane, fit_rigid
from floorpan.scan.axes import AxisPick, fit_axes

Floats = NDArray[np.float64]

FOUR = np.array([[0.0, 0, 0], [100, 0, 0], [0, 50, 0], [0, 0, 25]])
TURNED = np.array([[10, -20, 5], [96.60254037844387, 30, 5], [-15, 23.30127018922193, 5], [10, -20, 30]])
OFF = np.array([[0.3, 0, 0], [-0.3, 0.2, 0], [0, -0.2, 0.1], [0, 0, -0.1]])
FLAT = np.array([[0.0, 0, 0], [100, 0, 0], [0, 60, 0], [100, 60, 0]])
SHEET = np.array([[0, 0, 1.0], [100, 0, 1.2], [100, 100, 0.9], [0, 100, 1.1], [50, 50, 1.0]])


def as_printed(found: object, printed: object, places: int) -> None:
    """Half a unit of the last printed place."""
    np.testing.assert_allclose(
        np.asarray(found, dtype=np.float64), np.asarray(printed), rtol=0, atol=0.500001 * 10.0**-places
    )


def turn_of(fit: RigidFit) -> Floats:
    return fit.pose.matrix()[:3, :3]


def horn(start: Floats, end: Floats) -> tuple[Floats, Floats]:
    """The turn by the other way: quaternion (w, x, y, z) and matrix; B. K. P. Horn, J. Opt. Soc. Am. A 4(4), 1987."""
    s = (start - start.mean(axis=0)).T @ (end - end.mean(axis=0))
    across = np.array([s[1, 2] - s[2, 1], s[2, 0] - s[0, 2], s[0, 1] - s[1, 0]])
    four = np.zeros((4, 4))
    four[0, 0], four[0, 1:], four[1:, 0] = np.trace(s), across, across
    four[1:, 1:] = s + s.T - np.trace(s) * np.eye(3)
    w, x, y, z = q = np.linalg.eigh(four)[1][:, -1] * np.sign(np.linalg.eigh(four)[1][0, -1])
    turn = np.array(
        [
            [w * w + x * x - y * y - z * z, 2 * (x * y - w * z), 2 * (x * z + w * y)],
            [2 * (y * x + w * z), w * w - x * x + y * y - z * z, 2 * (y * z - w * x)],
            [2 * (z * x - w * y), 2 * (z * y + w * x), w * w - x * x - y * y + z * z],
        ]
    )
    return q, turn


class TestPlane:
    def test_through_five_points(self) -> None:
        """Check value 9.07, which takes the distances upright; ours stands square to the plane.

        At a slope of 1 in 1000 the plane, its normal and every distance agree to the printed digits either way. The
        root mean square alone tells them apart: 0.091652 upright, a two-millionth less square to the plane.
        """
        plane = fit_plane(SHEET)
        up = np.sign(plane.normal[2])
        normal = plane.normal * up
        as_printed(normal, [0.0, 0.001, 0.9999995], 7)
        as_printed(plane.residual_mm * up, [-0.09, 0.11, -0.09, 0.11, -0.04], 6)
        as_printed(-normal[:2] / normal[2], [0.0, -0.001], 6)
        as_printed(plane.centre @ normal / normal[2], 1.09, 6)
        as_printed(plane.rms_mm / normal[2], 0.091652, 6)
        assert plane.rms_mm / normal[2] == pytest.approx(0.0916515138991168, abs=1e-12)
        as_printed(plane.rms_mm, 0.091651, 6)
        assert plane.rms_mm == pytest.approx(0.0916515138991168 * np.cos(np.arctan(0.001)), abs=1e-12)

    def test_the_upright_fit_beside_it(self) -> None:
        """The same plane by the general least squares of numpy, whose upright distances the check value gives."""
        table = np.column_stack([SHEET[:, :2], np.ones(5)])
        solved, left, _, _ = np.linalg.lstsq(table, SHEET[:, 2], rcond=None)
        plane = fit_plane(SHEET)
        ours = [
            -plane.normal[0] / plane.normal[2],
            -plane.normal[1] / plane.normal[2],
            plane.centre @ plane.normal / plane.normal[2],
        ]
        assert np.sqrt(left[0] / 5) == pytest.approx(0.0916515138991168, abs=1e-12)
        assert ours[:2] == pytest.approx(solved[:2], abs=1e-8)
        assert ours[2] == pytest.approx(solved[2], abs=1e-6)

    def test_points_on_a_line_are_told(self) -> None:
        assert fit_plane(np.array([[0.0, 0, 0], [1, 2, 3], [2, 4, 6.0]])).on_a_line
        assert not fit_plane(np.array([[0.0, 0, 0], [1, 2, 3], [2, 4, 6.1]])).on_a_line


class TestRigidMove:
    def test_exactly(self) -> None:
        """Check value 9.01: 30 degrees about Z and a shift of (10, -20, 5)."""
        fit = fit_rigid(FOUR, TURNED)
        assert fit.rms_mm < 1e-12
        assert fit.pose.shift_mm == pytest.approx((10, -20, 5), abs=1e-12)
        half = np.sqrt(3.0) / 2.0
        assert turn_of(fit) == pytest.approx(
            np.array([[half, -0.5, 0], [0.5, half, 0], [0, 0, 1]]), abs=1e-12
        )

    def test_with_picks_that_are_off(self) -> None:
        """Check value 9.02, from a singular value and a quaternion code that agree to 1e-13."""
        fit = fit_rigid(FOUR, TURNED + OFF)
        turn = [
            [0.86406012, -0.50338851, 0.00033798],
            [0.50338850, 0.86405924, -0.00128410],
            [0.00035436, 0.00127968, 0.99999912],
        ]
        as_printed(turn_of(fit), turn, 8)
        as_printed(fit.pose.shift_mm, [10.089376, -20.052110, 4.975150], 6)
        as_printed(np.degrees(np.arccos((np.trace(turn_of(fit)) - 1.0) / 2.0)), 30.224544, 6)
        as_printed(fit.residual_mm, [0.218393, 0.211722, 0.112120, 0.149351], 6)
        as_printed(fit.rms_mm, 0.178465, 6)
        assert fit.rms_mm == pytest.approx(0.1784645332587894, abs=1e-12)
        assert not fit.mirrored

    def test_a_quaternion_says_the_same(self) -> None:
        """Check value 9.02 by Horn's way, which shares no step with ours."""
        quaternion, turn = horn(FOUR, TURNED + OFF)
        as_printed(quaternion, [0.96541681, 0.00066390, -0.00000424, 0.26071045], 8)
        assert turn_of(fit_rigid(FOUR, TURNED + OFF)) == pytest.approx(turn, abs=1e-12)

    def test_what_a_library_calls_rssd(self) -> None:
        """Check value 9.03: scipy gives the root of the summed squares, which is the rms times root n."""
        end = TURNED + OFF
        theirs, rssd = Rotation.align_vectors(end - end.mean(axis=0), FOUR - FOUR.mean(axis=0))
        fit = fit_rigid(FOUR, end)
        as_printed(rssd / 2.0, 0.178465, 6)
        assert rssd == pytest.approx(fit.rms_mm * np.sqrt(4), abs=1e-10)
        assert turn_of(fit) == pytest.approx(theirs.as_matrix(), abs=1e-10)

    @given(st.integers(0, 10_000), st.integers(3, 12))
    def test_agrees_with_another_library(self, seed: int, count: int) -> None:
        """scipy's align_vectors turns centred points (check value 9.03)."""
        random = np.random.default_rng(seed)
        start = random.normal(size=(count, 3)) * 100
        end = Rotation.random(rng=seed).apply(start) + random.normal(size=3) * 50
        end += random.normal(size=(count, 3))
        fit = fit_rigid(start, end)
        theirs, rssd = Rotation.align_vectors(end - end.mean(axis=0), start - start.mean(axis=0))
        assert turn_of(fit) == pytest.approx(theirs.as_matrix(), abs=1e-6)
        assert fit.rms_mm * np.sqrt(count) == pytest.approx(rssd, abs=1e-6)

    @pytest.mark.parametrize("seed", range(200))
    def test_a_known_move_comes_back(self, seed: int) -> None:
        """Marks all over a cabin of 3 by 2 by 1 m, turned anyhow by scipy and shifted by metres: found to 1e-9."""
        random = np.random.default_rng(seed)
        start = random.uniform((-1500, -1000, 0), (1500, 1000, 1000), (int(random.integers(4, 13)), 3))
        turn, shift = Rotation.random(rng=random), random.uniform(-3000, 3000, 3)
        fit = fit_rigid(start, turn.apply(start) + shift)
        assert turn_of(fit) == pytest.approx(turn.as_matrix(), abs=1e-9)
        assert fit.pose.shift_mm == pytest.approx(shift, abs=1e-9)
        assert fit.residual_mm.max() < 1e-9


class TestMirrors:
    def test_a_flat_set_of_marks_cannot_tell_a_mirrored_scan(self) -> None:
        """Check value 9.04: four marks in a plane, mirrored in X, fit without remainder, by half a turn."""
        fit = fit_rigid(FLAT, FLAT * [-1, 1, 1])
        assert fit.rms_mm < 1e-12
        assert turn_of(fit) == pytest.approx(np.diag([-1.0, 1.0, -1.0]), abs=1e-12)
        assert not fit.can_tell_mirror
        assert not fit.mirrored

    def test_marks_at_different_heights_can(self) -> None:
        """Check value 9.05: a fifth mark at (50, 30, 20) over their middle leaves 16.0.

        By hand: half a turn turns the heights over, 4 below their mean and 16 above it, so that the marks are left
        8, 8, 8, 8 and 32 off, and the root of 1280 / 5 is 16.
        """
        marks = np.vstack([FLAT, [[50, 30, 20]]])
        fit = fit_rigid(marks, marks * [-1, 1, 1])
        assert fit.rms_mm == pytest.approx(16.0, abs=1e-9)
        assert fit.residual_mm == pytest.approx([8, 8, 8, 8, 32], abs=1e-9)
        assert np.linalg.det(turn_of(fit)) == pytest.approx(1.0, abs=1e-12)
        assert fit.can_tell_mirror
        assert fit.mirrored
        assert fit.mirrored_rms_mm < 1e-9


class TestHandedness:
    """Check values 9.06 and 1.02: X rearward, Y right and Z up are right-handed, however the scan was turned."""

    CAR = (
        ("A", "level", (0.0, -400.0, 0.0)),
        ("B", "level", (0.0, 400.0, 0.0)),
        ("C", "level", (900.0, -400.0, 0.0)),
        ("D", "level", (900.0, 400.0, 0.0)),
        ("E", "pair", (200.0, -300.0, 50.0)),
        ("F", "pair", (200.0, 300.0, 50.0)),
        ("G", "centre", (0.0, 0.0, 40.0)),
        ("H", "centre", (900.0, 0.0, 60.0)),
        ("I", "front", (-500.0, 100.0, 200.0)),
        ("J", "above", (300.0, 100.0, 600.0)),
        ("K", "origin", (0.0, 0.0, 0.0)),
    )

    def picks(self, scanned: Floats) -> list[AxisPick]:
        side = {"E": {"side": "left", "partner": "F"}, "F": {"side": "right", "partner": "E"}}
        return [
            AxisPick(id=letter, at_mm=(float(x), float(y), float(z)), role=role, **side.get(letter, {}))
            for (letter, role, _), (x, y, z) in zip(self.CAR, scanned, strict=True)
        ]

    @pytest.mark.parametrize("seed", range(12))
    def test_rear_right_and_up(self, seed: int) -> None:
        car = np.array([at for _, _, at in self.CAR])
        random = np.random.default_rng(seed)
        scanned = Rotation.random(rng=random).apply(car) + random.uniform(-2000, 2000, 3)
        fit = fit_axes(self.picks(scanned))
        rear, right, up = fit.pose.matrix()[:3, :3]
        assert np.cross(rear, right) == pytest.approx(up, abs=1e-12)
        assert np.linalg.det([rear, right, up]) == pytest.approx(1.0, abs=1e-12)
        assert fit.pose.apply(scanned) == pytest.approx(car, abs=1e-9)
        assert fit.can_tell_mirror
