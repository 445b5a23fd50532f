"""Vessels that stand in one well in turn: one is drawn there, the others are told of and judged all the same."""

import pytest

from app.stage.bench import Bench
from app.stage.conftest import RAW, Open
from core.small_case import small_layout
from floorpan import edits
from floorpan.items import Vessel, vessel_of
from floorpan.items.states import state_of
from floorpan.items.vessels import height_mm
from floorpan.layout import Layout
from floorpan_app.standing import standing
from floorpan_app.well_mates import left_out, well_mates

CAN, BOTTLE = "vessel-1", "vessel-2"


def two() -> Layout:
    """A can and a taller bottle in the same well."""
    layout, bottle = edits.add(small_layout(RAW), vessel_of("bottle-500", "new", stands_in="cup-holder-1"))
    assert bottle == BOTTLE
    heights = {vessel.id: height_mm(vessel) for vessel in layout.of(Vessel)}
    assert heights[BOTTLE] > heights[CAN]
    return layout


@pytest.mark.parametrize(
    ("stops", "chosen", "drawn"),
    [
        ({}, (), BOTTLE),
        ({}, (CAN,), CAN),
        ({f"{BOTTLE}.place": "out"}, (), ""),
        ({f"{CAN}.place": "lifting"}, (), CAN),
        ({f"{CAN}.place": "lifting"}, (BOTTLE,), BOTTLE),
        ({}, ("seat-1",), BOTTLE),
    ],
)
def test_one_of_a_well_is_drawn(stops: dict[str, str], chosen: tuple[str, ...], drawn: str) -> None:
    layout = two()
    state = standing(layout, state_of(stops))
    other = CAN if drawn == BOTTLE else BOTTLE
    assert well_mates(layout, state, chosen) == ({drawn: (other,)} if drawn else {})
    assert left_out(layout, state, chosen) == (frozenset((other,)) if drawn else frozenset())


def test_vessels_of_different_wells_are_all_drawn() -> None:
    layout = edits.change(two(), BOTTLE, stands_in="")
    assert left_out(layout, standing(layout, ())) == frozenset()


@pytest.mark.real_view
def test_the_picture_holds_one_and_the_findings_both(open_bench: Open) -> None:
    bench = open_bench(two(), {RAW.sha256: RAW})
    assert drawn(bench) == {BOTTLE}
    bench.desk.select(CAN)
    assert drawn(bench) == {CAN}
    bench.desk.select("shifter-1")
    assert drawn(bench) == {BOTTLE}
    found = next(one for one in bench.judging.findings if CAN in one.subjects and BOTTLE not in one.subjects)
    bench.desk.choose_finding(found.id)
    assert drawn(bench) == {CAN}
    judged = {one.subjects[0].partition(".")[0] for one in bench.judging.findings}
    assert {CAN, BOTTLE} <= judged


def drawn(bench: Bench) -> set[str]:
    return {name.partition(".")[0] for name in bench.view.scene.names() if name.startswith("vessel-")}
