"""Room across a well that grips: closed forms from diameters, beside the same well with a stiff wall."""

import pytest

from floorpan import edits
from floorpan.checks import Evaluator, Finding
from floorpan.checks.cup import CHECKS
from floorpan.derive import Bench
from floorpan.items import CupHolder, Vessel
from floorpan.layout import Layout
from floorpan.progress import finish
from floorpan.report.sentences import remark, sentence

WELL = 80.0


def well(grip: str, across_mm: float, *, mouth_mm: float = WELL, reach_mm: float = 4.0) -> Layout:
    """A straight can so wide in a straight well."""
    layout, holder = edits.add(
        Layout(),
        CupHolder(
            id="new", stands_on="none", grip=grip, grip_reach_mm=reach_mm, mouth_mm=mouth_mm, base_mm=mouth_mm
        ),
    )
    radius = across_mm / 2
    can = Vessel(id="new", name="Can", stands_in=holder, profile=((0.0, radius), (120.0, radius)))
    return edits.add(layout, can)[0]


def side(layout: Layout) -> Finding:
    found = finish(Evaluator(Bench({}), CHECKS).settle(layout))
    return next(one for one in found if one.check == "well-side")


@pytest.mark.parametrize("grip", ["spring fingers", "rubber ring"])
@pytest.mark.parametrize(
    ("across_mm", "verdict"),
    [(79.0, "clear"), (76.0, "clear"), (72.9, "clear"), (72.1, "close"), (70.0, "short"), (80.0, "close")],
)
def test_fingers_take_up_to_twice_their_reach(grip: str, across_mm: float, verdict: str) -> None:
    """Closed form: mouth less vessel lies from 0 to 2 x 4 mm; give or take twice the two callipers together, 0.28."""
    finding = side(well(grip, across_mm))
    assert finding.value == pytest.approx(WELL - across_mm)
    assert (finding.limit.value, finding.limit.upper) == (0.0, 8.0)
    assert finding.uncertainty == pytest.approx(2.0 * (2 * 0.1**2) ** 0.5)
    assert finding.verdict == verdict


def test_the_same_well_with_a_stiff_wall_wants_two_to_four() -> None:
    """Five of eight millimetres that fingers take up are too loose for a stiff wall, and one is too snug."""
    for across_mm, verdict in ((75.0, "short"), (79.0, "short"), (77.0, "clear")):
        finding = side(well("stiff wall", across_mm))
        assert (finding.limit.value, finding.limit.upper) == (2.0, 4.0)
        assert finding.verdict == verdict


def test_longer_fingers_take_up_more_and_a_builders_own_band_stands() -> None:
    layout = well("spring fingers", 68.0, reach_mm=7.0)
    assert side(layout).verdict == "clear"
    assert side(layout).limit.upper == 14.0
    own = edits.set_limit(layout, "well-side-fingers", 1.0, upper=5.0, note="tried it")
    assert side(own).limit.upper == 5.0
    assert side(own).verdict == "short"


def test_what_the_fingers_do_not_reach_is_told() -> None:
    finding = side(well("spring fingers", 70.0))
    assert remark(finding) == "The fingers do not reach it."
    assert "over 8" in sentence(finding, well("spring fingers", 70.0))


def test_a_waist_at_the_mouth_counts_where_the_fingers_press() -> None:
    """Wide below and thin at the mouth: the wall lets it by, but 80 less 60 is more than fingers reach."""
    layout = well("spring fingers", 78.0)
    layout = edits.change(
        layout, "vessel-1", profile=((0.0, 39.0), (50.0, 39.0), (60.0, 30.0), (120.0, 30.0))
    )
    finding = side(layout)
    assert finding.value == pytest.approx(20.0)
    assert finding.verdict == "short"


def test_what_is_wider_than_the_well_does_not_go_in_fingers_or_not() -> None:
    for grip in ("stiff wall", "spring fingers"):
        finding = side(well(grip, 82.0))
        assert finding.verdict == "hits"
        assert remark(finding) == "Does not go in."
