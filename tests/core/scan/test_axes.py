"""Axes from picks: exact ones, noisy ones against simulation, and every fault in words."""

import math
from collections.abc import Iterable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.errors import AxesProblem, BadValue
from floorpan.frames import Pose
from floorpan.scan.axes import AxesFit, AxisPick, fit_axes

# In car axes: sills at one height, seat bolts in pairs, two points of the centre plane, an origin.
CAR = (
    ("A", "level", (-200.0, -600, 0), "", ""),
    ("B", "level", (-200.0, 600, 0), "", ""),
    ("C", "level", (900.0, -600, 0), "", ""),
    ("D", "level", (900.0, 600, 0), "", ""),
    ("E", "pair", (100.0, -410, 60), "left", "F"),
    ("F", "pair", (100.0, 410, 60), "right", "E"),
    ("G", "pair", (700.0, -390, 80), "left", "H"),
    ("H", "pair", (700.0, 390, 80), "right", "G"),
    ("O", "origin", (0.0, 130, 0), "", ""),
    ("P", "front", (-500.0, 20, 150), "", ""),
    ("Q", "above", (300.0, 100, 400), "", ""),
)
SCANNER = Pose(shift_mm=(310.0, -1200.0, 845.0)).after(Pose.turned((1, -2, 0.4), 137.0))
"""From car axes to where the scanner put them."""


def picks(
    leave_out: Iterable[str] = "",
    moved: dict[str, tuple[float, float, float]] | None = None,
    scanner: Pose = SCANNER,
) -> list[AxisPick]:
    out = []
    for letter, role, at, side, partner in CAR:
        if letter not in leave_out and (not partner or partner not in leave_out):
            place = scanner.apply(np.array(at) + np.array((moved or {}).get(letter, (0, 0, 0))))
            out.append(AxisPick(id=letter, at_mm=tuple(place), role=role, side=side, partner=partner))  # type: ignore[arg-type]
    return out


def off_axes(fit: AxesFit, scanner: Pose = SCANNER) -> float:
    """Degrees between the fitted axes and the true ones."""
    turn = fit.pose.after(scanner).matrix()[:3, :3]
    return math.degrees(math.acos(min(1.0, (np.trace(turn) - 1.0) / 2.0)))


@pytest.mark.parametrize("leave_out", ["", "Q", "P", "EFGH", "GH", "GHQ", "GHP", "ABCD"[3:]])
def test_exact_picks_give_exact_axes(leave_out: str) -> None:
    """Any two of up, front and right settle the third."""
    chosen = picks(leave_out)
    if leave_out == "EFGH":
        for letter, x in (("X", 50.0), ("Y", 800.0)):
            chosen.append(
                AxisPick(id=letter, at_mm=tuple(SCANNER.apply(np.array([x, 0, 20]))), role="centre")
            )
    fit = fit_axes(chosen)
    assert off_axes(fit) < 1e-5
    assert fit.pose.after(SCANNER).shift_mm == pytest.approx((0, 0, 0), abs=1e-6)
    assert fit.rms_mm < 1e-9
    assert fit.advice == ""
    assert fit.can_tell_mirror == (not set(leave_out) & set("PQ") and leave_out != "EFGH")


@given(st.tuples(*[st.floats(-1, 1)] * 3), st.floats(0, 180), st.tuples(*[st.floats(-2000, 2000)] * 3))
def test_wherever_the_scanner_stood(
    axis: tuple[float, float, float], angle: float, shift: tuple[float, float, float]
) -> None:
    way = axis if np.linalg.norm(axis) > 0.1 else (0.0, 0.0, 1.0)
    scanner = Pose(shift_mm=shift).after(Pose.turned(way, angle))
    fit = fit_axes(picks(scanner=scanner))
    assert off_axes(fit, scanner) < 1e-5
    assert np.linalg.det(fit.pose.matrix()[:3, :3]) == pytest.approx(1.0)


def test_residuals_are_what_was_put_in() -> None:
    """One corner of four 4 mm high: the plane takes 3 of it and leaves 1 at each corner."""
    fit = fit_axes(picks(moved={"A": (0, 0, 4)}))
    left = dict(fit.residuals_mm)
    assert [left[k] for k in "ABCD"] == pytest.approx([1.0, 1.0, 1.0, 1.0], abs=1e-3)
    fit = fit_axes(picks(moved={"E": (0, 3, 0), "F": (0, 3, 0)}))
    assert dict(fit.residuals_mm)["E"] < 1e-9
    assert off_axes(fit) == pytest.approx(math.degrees(math.atan(3 / 600)), rel=1e-3)


def test_tilt_in_the_builders_terms() -> None:
    """0.2 degrees is 3.1 mm at 900 mm."""
    fit = fit_axes(picks())
    assert fit.tilt_over_900_mm == pytest.approx(900 * math.tan(math.radians(fit.u_tilt_deg)))
    assert 900 * math.tan(math.radians(0.2)) == pytest.approx(3.1, abs=0.05)
    assert fit.u_deg == max(fit.u_tilt_deg, fit.u_yaw_deg)


def test_the_doubt_covers_95_of_100() -> None:
    """Picks off by one sigma of 1 mm each, many times over: the true axes lie within the half-widths told."""
    random = np.random.default_rng(11)
    more = [
        AxisPick(id=f"L{k}", at_mm=tuple(SCANNER.apply(np.array(at))), role="level")
        for k, at in enumerate([(300.0, -600, 0), (300, 600, 0), (600.0, -500, 0), (0.0, 500, 0)])
    ]
    more += [
        AxisPick(id=f"M{k}", at_mm=tuple(SCANNER.apply(np.array([x, 0.0, 30]))), role="centre")
        for k, x in enumerate((-100.0, 250.0, 500.0, 850.0))
    ]
    tilt, yaw = [], []
    for _ in range(300):
        rough = [
            AxisPick(
                id=p.id,
                at_mm=tuple(np.array(p.at_mm) + random.normal(0, 1, 3)),
                role=p.role,
                side=p.side,
                partner=p.partner,
            )
            for p in picks() + more
        ]
        fit = fit_axes(rough)
        turn = fit.pose.after(SCANNER).matrix()[:3, :3]
        # Along any one direction: the doubt is that of the weakest.
        tilt += [abs(math.degrees(math.asin(turn[2, axis]))) <= fit.u_tilt_deg for axis in (0, 1)]
        yaw.append(abs(math.degrees(math.atan2(turn[0, 1], turn[0, 0]))) <= fit.u_yaw_deg)
    assert np.mean(tilt) > 0.9
    assert np.mean(yaw) > 0.9


def test_one_odd_pick_is_named() -> None:
    extra = [
        AxisPick(id=k, at_mm=tuple(SCANNER.apply(np.array(at))), role="level")
        for k, at in (("U", (300.0, -600, 0)), ("V", (300.0, 580, 0)))
    ]
    fit = fit_axes(picks(moved={"C": (0, 0, 14.0)}) + extra)
    assert fit.odd_one == "C"
    assert fit.advice == "Point C is 14 mm off the other 5. Pick it again, or leave it out."
    assert fit_axes(picks() + extra).odd_one == ""
    # With four any one of them could be it.
    assert fit_axes(picks(moved={"C": (0, 0, 14.0)})).odd_one == ""


class TestFaults:
    def told(self, code: str, chosen: list[AxisPick]) -> AxesProblem:
        with pytest.raises(AxesProblem) as told:
            fit_axes(chosen)
        assert told.value.code == code
        assert told.value.remedy
        return told.value

    def test_two_level_points(self) -> None:
        assert self.told("level-too-few", picks("CD")).facts["picked"] == 2

    def test_level_points_in_a_line(self) -> None:
        self.told(
            "level-on-a-line",
            picks(moved={"A": (0, 600, 0), "C": (0, 600, 0), "B": (550, -600, 0), "D": (300, -600, 0)}),
        )

    def test_level_points_in_one_place(self) -> None:
        self.told(
            "level-on-a-line",
            picks(moved={k: tuple(-np.array(at)) for k, r, at, _, _ in CAR if r == "level"}),
        )  # type: ignore[misc]

    def test_no_centre(self) -> None:
        self.told("no-centre", picks("EFGH"))

    def test_one_centre_point(self) -> None:
        chosen = [*picks("EFGH"), AxisPick(id="X", at_mm=tuple(SCANNER.apply(np.zeros(3))), role="centre")]
        self.told("centre-too-close", chosen)

    def test_a_pair_in_one_place(self) -> None:
        assert "E and F" in self.told("pair-identical", picks(moved={"F": (0, -820, 0)})).what

    def test_half_a_pair(self) -> None:
        self.told("pair-half", [pick for pick in picks() if pick.id != "F"])

    def test_a_pair_of_two_left_points(self) -> None:
        chosen = picks("EF")
        for letter, partner, y in (("E", "F", -410.0), ("F", "E", 410.0)):
            place = tuple(SCANNER.apply(np.array([100, y, 60])))
            chosen.append(AxisPick(id=letter, at_mm=place, role="pair", side="left", partner=partner))
        self.told("pair-half", chosen)

    def test_a_pair_the_wrong_way_round(self) -> None:
        assert self.told("pair-swapped", picks(moved={"G": (0, 780, 0), "H": (0, -780, 0)})).facts[
            "pick"
        ] in ("E", "G")

    def test_no_origin(self) -> None:
        self.told("no-origin", picks("O"))

    def test_two_origins(self) -> None:
        self.told("origins", [*picks(), AxisPick(id="Z", at_mm=(0.0, 0.0, 0.0), role="origin")])

    def test_nothing_says_up(self) -> None:
        self.told("no-up", picks("PQ"))

    def test_nothing_says_front(self) -> None:
        chosen = picks("EFGHP")
        for letter, x in (("X", 50.0), ("Y", 800.0)):
            chosen.append(
                AxisPick(id=letter, at_mm=tuple(SCANNER.apply(np.array([x, 0, 20]))), role="centre")
            )
        self.told("no-front", chosen)

    def test_a_mirrored_scan(self) -> None:
        """All three ways are told, and they make a left-handed set."""
        chosen = [
            AxisPick(
                id=p.id,
                at_mm=(-p.at_mm[0], p.at_mm[1], p.at_mm[2]),
                role=p.role,
                side=p.side,
                partner=p.partner,
            )
            for p in picks()
        ]
        assert "mirrored" in self.told("axes-mirrored", chosen).what

    def test_without_a_third_way_a_mirrored_scan_passes_and_that_is_told(self) -> None:
        chosen = [
            AxisPick(
                id=p.id,
                at_mm=(-p.at_mm[0], p.at_mm[1], p.at_mm[2]),
                role=p.role,
                side=p.side,
                partner=p.partner,
            )
            for p in picks("Q")
        ]
        assert not fit_axes(chosen).can_tell_mirror

    def test_one_letter_twice(self) -> None:
        self.told("letter-twice", [*picks(), picks()[0]])

    def test_a_pick_nowhere(self) -> None:
        with pytest.raises(AxesProblem):
            AxisPick(id="A", at_mm=(0.0, math.nan, 0.0))

    def test_a_pick_of_an_unknown_kind(self) -> None:
        with pytest.raises(BadValue):
            AxisPick(id="A", at_mm=(0.0, 0.0, 0.0), role="middle")  # type: ignore[arg-type]


def test_a_hint_says_up_where_no_pick_does() -> None:
    up = SCANNER.matrix()[:3, 2]
    fit = fit_axes(picks("PQ"), up_hint=tuple(up))  # type: ignore[arg-type]
    assert off_axes(fit) < 1e-5
    assert not fit.can_tell_mirror


def test_one_pair_alone_gives_a_direction_with_more_doubt() -> None:
    one, two = fit_axes(picks("GH")), fit_axes(picks())
    assert off_axes(one) < 1e-5
    assert one.u_yaw_deg > 0.0
    assert two.u_yaw_deg > 0.0
