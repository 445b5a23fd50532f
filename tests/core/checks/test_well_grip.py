"""How much of a vessel stands out of its well to take hold of: closed forms of heights."""

import pytest

from core.checks.test_fingers_in_well import well
from floorpan import edits
from floorpan.checks import Evaluator, Finding
from floorpan.checks.cup import CHECKS
from floorpan.console import Envelope, Station
from floorpan.derive import Bench
from floorpan.items import Place
from floorpan.items.lift_out import FINGERTIPS_MM
from floorpan.layout import Layout
from floorpan.limits import LIMITS
from floorpan.progress import finish
from floorpan.report.sentences import pair_title, sentence

CAN = 120.0


def deep(depth_mm: float, **changes: object) -> Layout:
    """A can of 120 mm in a well of some depth, in a place and at a turn of its own."""
    layout = edits.change(well("stiff wall", 77.0), "cup-holder-1", depth_mm=depth_mm, **changes)
    return edits.turn(
        edits.move(layout, "cup-holder-1", x_mm=300.0, y_mm=40.0, z_mm=150.0), "cup-holder-1", 30
    )


def found(layout: Layout) -> dict[str, Finding]:
    return {one.check: one for one in finish(Evaluator(Bench({}), CHECKS).settle(layout))}


def test_the_limit_is_what_fingertips_take() -> None:
    assert LIMITS["well-grip"].value == FINGERTIPS_MM


@pytest.mark.parametrize(
    ("depth_mm", "verdict"),
    [(70.0, "clear"), (98.0, "clear"), (99.5, "close"), (105.0, "short"), (200.0, "short")],
)
def test_a_vessel_stands_out_by_its_height_less_the_depth(depth_mm: float, verdict: str) -> None:
    finding = found(deep(depth_mm))["well-grip"]
    assert finding.value == pytest.approx(CAN - depth_mm)
    assert finding.uncertainty == pytest.approx(2.0 * (2 * 0.5**2) ** 0.5), "two heights off a tape"
    assert finding.verdict == verdict


def test_a_can_sunk_below_the_rim_is_told_and_sits_no_deeper_than_it_is_tall() -> None:
    layout = deep(200.0)
    told = found(layout)
    assert told["well-depth"].value == CAN
    assert sentence(told["well-depth"], layout).startswith("The can sits 120 mm deep in the well, ")
    assert sentence(told["well-grip"], layout) == (
        "The can ends 80 mm below the edge round the well: 100 mm short of 20 (give or take 1.5)."
    )
    out = deep(90.0)
    assert sentence(found(out)["well-grip"], out) == (
        "The can stands 30 mm out over the well, 20 mm wanted (give or take 1.5)."
    )
    assert pair_title(told["well-grip"], layout) == "Can, out of the well"


def test_a_ring_over_the_mouth_is_an_edge_too() -> None:
    """60 of well and 40 more to the middle of the ring."""
    assert found(deep(60.0, ring_mm=80.0, ring_over_mm=40.0, wall_mm=3.0))[
        "well-grip"
    ].value == pytest.approx(CAN - 100.0)


def test_a_console_higher_than_the_well_is_the_edge() -> None:
    """A shell of 250 over the floor with the well's bottom at 150: the can's top at 270 stands out 20 over it."""
    layout = deep(70.0)
    stations = (
        Station(x_mm=0.0, width_mm=300.0, height_mm=250.0),
        Station(x_mm=400.0, width_mm=300.0, height_mm=250.0),
    )
    layout, console = edits.add(layout, Envelope(id="new", place=Place(x_mm=100.0), stations=stations))
    finding = found(layout)["well-grip"]
    assert finding.value == pytest.approx(20.0)
    assert finding.verdict == "close"
    assert found(edits.remove(layout, console))["well-grip"].value == pytest.approx(50.0)


def test_what_does_not_go_in_or_stands_free_has_none() -> None:
    wide = edits.change(deep(70.0), "vessel-1", profile=((0.0, 41.0), (CAN, 41.0)))
    assert "well-grip" not in found(wide)
    assert "well-grip" not in found(edits.remove(deep(70.0), "cup-holder-1"))
