"""A gate fitted to taped knobs: exact on the closed form's own points, honest about what they do not tell."""

import dataclasses
import math

import numpy as np
import pytest

from floorpan import edits
from floorpan.errors import BadValue
from floorpan.items import KnobPoint, Shifter, gate_table
from floorpan.items.gate_fit import fit_gate
from floorpan.items.placing import Place
from floorpan.layout import Layout

TRUE = {
    "lever_mm": 262.0, "lean_deg": 11.0, "side_lean_deg": -3.0, "throw_deg": 12.7, "plane_deg": 6.1,
    "pivot_mm": 38.0, "pivot_back_mm": 7.0, "pivot_right_mm": -4.0,
}  # fmt: skip
PLANES = {"N": 0, "1": -1, "2": -1, "3": 0, "4": 0, "5": 1, "6": 1, "R": 1}
ROWS = {"N": 0, "1": -1, "2": 1, "3": -1, "4": 1, "5": -1, "6": 1, "R": 1}
EMPTY = Shifter(id="shifter-1")


def closed_form(gear: str, further_deg: float = 0.0) -> np.ndarray:
    """x = px + L sin(fore) cos(side), y = py + L sin(side), z = pz + L cos(fore) cos(side), written out here."""
    fore = math.radians(11.0 + ROWS[gear] * (12.7 + (further_deg if gear == "R" else 0.0)))
    side = math.radians(-3.0 + PLANES[gear] * 6.1)
    return np.array(
        [
            7.0 + 262.0 * math.sin(fore) * math.cos(side),
            -4.0 + 262.0 * math.sin(side),
            38.0 + 262.0 * math.cos(fore) * math.cos(side),
        ]
    )


def taped(gears: str, off: dict[str, np.ndarray] | None = None, **kwargs: float) -> tuple[KnobPoint, ...]:
    places = {gear: closed_form(gear, **kwargs) + (off or {}).get(gear, np.zeros(3)) for gear in gears}
    return tuple(KnobPoint(gear=gear, x_mm=x, y_mm=y, z_mm=z) for gear, (x, y, z) in places.items())


@pytest.mark.parametrize("gears", ["N12345R", "N1234R", "N134", "R1N3", "1234"])
def test_exact_knobs_give_the_gate_back(gears: str) -> None:
    fit = fit_gate(dataclasses.replace(EMPTY, knobs=taped(gears)))
    for name, value in TRUE.items():
        assert getattr(fit.shifter, name) == pytest.approx(value, abs=1e-5), name
    assert fit.rms_mm == pytest.approx(0.0, abs=1e-8)
    assert fit.odd == ""
    # Gears that were not taped follow, wherever the shifter stands.
    for knob in fit.knobs:
        np.testing.assert_allclose(knob.at_mm, closed_form(knob.gear), atol=1e-5)
        assert knob.taped is (knob.gear in gears)
    standing = dataclasses.replace(fit.shifter, place=Place(x_mm=300.0, z_mm=50.0))
    for place in gate_table(standing):
        np.testing.assert_allclose(
            place.knob_mm, np.add(closed_form(place.gear), (300.0, 0.0, 50.0)), atol=1e-5
        )


def test_a_pivot_that_was_measured_is_kept_and_three_knobs_do() -> None:
    pivot = {name: TRUE[name] for name in ("pivot_mm", "pivot_back_mm", "pivot_right_mm")}
    held = fit_gate(dataclasses.replace(EMPTY, **pivot, knobs=taped("N15")), pivot_held=True)
    for name, value in TRUE.items():
        assert getattr(held.shifter, name) == pytest.approx(value, abs=1e-6)
    free = dict(fit_gate(dataclasses.replace(EMPTY, knobs=taped("N12345R"))).u)
    # What the knobs' arc tells of the pivot is little: ten times less than a measured one.
    assert free["lever_mm"] > 10 * dict(held.u)["lever_mm"]
    assert "pivot_mm" not in dict(held.u)


def test_reverse_that_goes_further_is_fitted_where_the_shifter_has_it() -> None:
    further = dataclasses.replace(EMPTY, reverse_extra_deg=1.0, knobs=taped("N12345R", further_deg=4.5))
    assert fit_gate(further).shifter.reverse_extra_deg == pytest.approx(4.5, abs=1e-6)


@pytest.mark.parametrize(
    ("gear", "off"), [("5", (0.0, 14.0, 0.0)), ("1", (12.0, 0.0, 0.0)), ("N", (12.0, -4.0, 0.0))]
)
def test_the_odd_knob_is_named_and_how_far_off_it_is(gear: str, off: tuple[float, ...]) -> None:
    fit = fit_gate(dataclasses.replace(EMPTY, knobs=taped("N12345R", {gear: np.array(off)})))
    assert fit.odd == gear
    # The rest are exact, so that the gate without it tells its whole fault.
    assert fit.odd_off_mm == pytest.approx(float(np.linalg.norm(off)), abs=1e-4)
    assert fit.rms_mm > 1.0


def test_scatter_of_the_tape_names_nobody_and_stays_within_the_give_or_take() -> None:
    """Seeded scatter of 1 mm: of seven knobs in each of 40 gates, 95 in 100 lie within what is told."""
    rng = np.random.default_rng(7)
    within = []
    for _ in range(40):
        off = {gear: rng.normal(0.0, 1.0, 3) for gear in "N12345R"}
        shifter = dataclasses.replace(
            EMPTY, **{name: TRUE[name] for name in ("pivot_mm", "pivot_back_mm", "pivot_right_mm")},
            knobs=taped("N12345R", off),
        )  # fmt: skip
        fit = fit_gate(shifter, pivot_held=True)
        assert fit.odd == ""
        within += [math.dist(k.at_mm, closed_form(k.gear)) <= 1.5 * k.u_mm for k in fit.knobs]
        assert sum(one.off_mm**2 for one in fit.points) == pytest.approx(7 * fit.rms_mm**2)
    assert np.mean(within) > 0.95


def test_knobs_that_do_not_tell_are_refused_with_what_is_missing() -> None:
    def fault(gears: str, **kwargs: object) -> BadValue:
        with pytest.raises(BadValue) as caught:
            fit_gate(dataclasses.replace(EMPTY, knobs=taped(gears), **kwargs))
        return caught.value

    assert fault("N3").code == "gate-points-few"
    assert fault("").code == "gate-points-few"
    assert fault("N34").code == "gate-points-one-plane"
    assert "another plane" in fault("N34").remedy
    # All taped at one height: no arc, so no pivot.
    level = tuple(dataclasses.replace(knob, z_mm=280.0) for knob in taped("N12345R"))
    with pytest.raises(BadValue) as caught:
        fit_gate(dataclasses.replace(EMPTY, knobs=level))
    assert caught.value.code == "gate-points-flat"


def test_a_knob_that_spoils_every_pivot_is_named_in_the_remedy() -> None:
    spoilt = taped("N12345R", {"N": np.array([0.0, 0.0, 15.0])})
    pivot = {name: TRUE[name] for name in ("pivot_mm", "pivot_back_mm", "pivot_right_mm")}
    with pytest.raises(BadValue) as caught:
        fit_gate(dataclasses.replace(EMPTY, **pivot, knobs=spoilt))
    assert caught.value.code == "gate-points-flat"
    assert caught.value.remedy.startswith("Tape N again")


def test_a_straight_gate_is_fitted_along_its_line() -> None:
    """Neutral at lean, each place a detent of 6 deg on: the same closed form in one plane."""
    places = dict(zip("PRND21", range(-2, 4), strict=True))
    knobs = []
    for gear in "PND1":
        fore, side = math.radians(9.0 + 6.0 * places[gear]), math.radians(2.0)
        knobs.append(
            KnobPoint(
                gear=gear,
                x_mm=5.0 + 180.0 * math.sin(fore) * math.cos(side),
                y_mm=180.0 * math.sin(side),
                z_mm=30.0 + 180.0 * math.cos(fore) * math.cos(side),
            )
        )
    base = Shifter(id="s-1", gate="straight", places="P R N D 2 1", detent_deg=4.0, knobs=tuple(knobs))
    fit = fit_gate(base)
    found = (fit.shifter.lever_mm, fit.shifter.lean_deg, fit.shifter.side_lean_deg, fit.shifter.detent_deg)
    np.testing.assert_allclose(found, [180.0, 9.0, 2.0, 6.0], atol=1e-5)
    assert (fit.shifter.pivot_back_mm, fit.shifter.pivot_mm) == pytest.approx((5.0, 30.0), abs=1e-5)


def test_the_edit_sets_the_gate_and_keeps_the_knobs_and_the_place() -> None:
    knobs = taped("N1345")
    shifter = dataclasses.replace(EMPTY, place=Place(x_mm=500.0), knobs=knobs)
    layout, id = edits.add(Layout(), shifter)
    [fitted] = edits.gate_from_points(layout, id).of(Shifter)
    assert fitted.knobs == knobs
    assert fitted.place == shifter.place
    assert fitted.throw_deg == pytest.approx(12.7, abs=1e-6)
    with pytest.raises(BadValue, match="plane"):
        edits.gate_from_points(edits.change(layout, id, knobs=taped("N34")), id)
