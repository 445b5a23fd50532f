"""Known lengths, straight edges, and what they come to."""

import math

import numpy as np
import pytest
from scipy.optimize import curve_fit

from floorpan.errors import BadValue
from floorpan.frames import Vector
from floorpan.scan.acceptance import REACH_MM, UNMEASURED_MM, scan_doubt
from floorpan.scan.axis_doubt import PICK_MM
from floorpan.scan.known_lengths import KnownLength, check_lengths
from floorpan.scan.straight_edges import StraightEdge, check_edge


def length(id: str, scan: float, taped: float, way: Vector = (1.0, 0.0, 0.0), u: float = 0.5) -> KnownLength:
    end = tuple(scan * part for part in way)
    return KnownLength(id=id, ends_mm=((0.0, 0.0, 0.0), end), taped_mm=taped, tape_u_mm=u)  # type: ignore[arg-type]


X, Y, Z = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)


def test_a_length_is_judged_by_half_a_millimetre_in_five_hundred() -> None:
    found = check_lengths([length("a", 500.2, 500.0), length("b", 500.9, 500.0), length("c", 504.0, 500.0)])
    assert found is not None
    assert [one.verdict for one in found.lengths] == ["clear", "close", "short"]
    assert [one.error_mm for one in found.lengths] == pytest.approx([0.2, 0.9, 4.0])
    assert found.lengths[0].allowed_mm == pytest.approx(0.5)
    # Two picks and a tape: closed form.
    assert found.lengths[0].u_mm == pytest.approx(2.0 * math.sqrt(2.0 * PICK_MM**2 + 0.25**2))
    assert found.verdict == "short"


def test_the_factor_agrees_with_a_general_least_squares_library() -> None:
    known = [length("a", 1003.1, 1000.0, X), length("b", 501.2, 500.0, Y, 0.2), length("c", 301.0, 300.0, Z)]
    found = check_lengths(known)
    assert found is not None
    sigma = [math.hypot(math.sqrt(2.0) * PICK_MM, one.tape_u_mm / 2.0) for one in known]
    (factor,), covariance = curve_fit(
        lambda scan, f: f * scan,
        [one.scan_mm for one in known],
        [one.taped_mm for one in known],
        p0=[1.0],
        sigma=sigma,
        absolute_sigma=True,
    )
    assert found.factor == pytest.approx(factor, rel=1e-9)
    assert found.u_factor == pytest.approx(2.0 * math.sqrt(covariance[0, 0]), rel=1e-6)
    assert found.agrees
    assert found.proposed
    assert max(abs(one.left_mm) for one in found.lengths) < 0.6


def test_one_factor_never_hides_a_bend() -> None:
    """Long one way and short the other: their mean is right and every length is wrong."""
    found = check_lengths([length("a", 1006.0, 1000.0, X), length("b", 994.0, 1000.0, Y)])
    assert found is not None
    assert found.factor == pytest.approx(1.0, abs=1e-4)
    assert not found.agrees
    assert not found.proposed


def test_good_picks_are_refused_once_in_a_hundred() -> None:
    random = np.random.default_rng(3)
    refused = 0
    for _ in range(600):
        known = []
        for number, taped in enumerate((500.0, 800.0, 1000.0, 1200.0)):
            off = random.normal(0.0, math.sqrt(2.0) * PICK_MM) + random.normal(0.0, 0.25)
            known.append(length(str(number), 1.002 * taped + off, taped))
        found = check_lengths(known)
        assert found is not None
        refused += not found.agrees
    # Binomial, 600 draws at 1 %: 6 on average, 3 sigma up to 13.
    assert refused <= 13


def test_what_is_right_is_left_alone() -> None:
    found = check_lengths([length("a", 1000.1, 1000.0), length("b", 499.9, 500.0, Y)])
    assert found is not None
    assert found.verdict == "clear"
    assert not found.proposed
    assert check_lengths([]) is None


def test_a_bow_is_the_greatest_departure_from_the_chord() -> None:
    """A circle's arc: its sagitta over a chord is r - sqrt(r^2 - c^2 / 4)."""
    radius, chord = 100_000.0, 1000.0
    xs = np.linspace(-chord / 2, chord / 2, 9)
    edge = StraightEdge(id="e", points_mm=tuple((float(x), 7.0, math.sqrt(radius**2 - x**2)) for x in xs))
    found = check_edge(edge)
    assert found.bow_mm == pytest.approx(radius - math.sqrt(radius**2 - chord**2 / 4), rel=1e-9)
    assert found.length_mm == pytest.approx(chord)
    assert found.at_mm[0] == pytest.approx(0.0, abs=1e-9)
    assert found.allowed_mm == pytest.approx(1.0)
    assert found.verdict == "close"
    assert found.u_mm == pytest.approx(2.0 * PICK_MM * math.sqrt(1.5))


@pytest.mark.parametrize(("sag", "verdict"), [(0.4, "clear"), (1.9, "close"), (9.0, "short")])
def test_an_edge_may_bow_a_millimetre_in_a_metre(sag: float, verdict: str) -> None:
    edge = StraightEdge(id="e", points_mm=((0.0, 0.0, 0.0), (500.0, 0.0, sag), (1000.0, 0.0, 0.0)))
    assert check_edge(edge).verdict == verdict


def test_what_is_no_edge_and_no_length_is_refused() -> None:
    with pytest.raises(BadValue) as fault:
        StraightEdge(id="e", points_mm=((0.0, 0.0, 0.0), (500.0, 0.0, 0.0)))
    assert fault.value.code == "edge-too-few"
    with pytest.raises(BadValue) as fault:
        StraightEdge(id="e", points_mm=((0.0, 0.0, 0.0), (5.0, 0.0, 0.0), (9.0, 0.0, 0.0)))
    assert fault.value.code == "edge-too-short"
    with pytest.raises(BadValue) as fault:
        length("a", 0.0, 500.0)
    assert fault.value.code == "length-too-short"


def test_nothing_measured_is_two_millimetres() -> None:
    assert scan_doubt((), ()).u_mm == pytest.approx(UNMEASURED_MM)


def test_the_doubt_is_twice_the_root_of_the_sum_of_squares() -> None:
    known = (length("a", 1000.4, 1000.0), length("b", 500.1, 500.0, Y))
    edge = StraightEdge(id="e", points_mm=((0.0, 0.0, 0.0), (500.0, 0.0, 0.6), (1000.0, 0.0, 0.0)))
    told = scan_doubt(known, (edge,), apart_mm=0.9)
    scale = check_lengths(known)
    assert scale is not None
    parts = {part.name: part.standard_mm for part in told.parts}
    assert parts["scale"] == pytest.approx(REACH_MM * (abs(scale.factor - 1.0) + scale.u_factor / 2))
    assert parts["bow"] == pytest.approx(0.6 / math.sqrt(3.0))
    assert parts["double walls"] == pytest.approx(0.9 / math.sqrt(12.0))
    assert told.u_mm == pytest.approx(2.0 * math.sqrt(sum(value**2 for value in parts.values())))
