"""The opening around the lever: what it wants goes by what the lever stands on, and a bend is counted."""

import dataclasses

import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.checks import Finding, evaluate
from floorpan.derive import Bench
from floorpan.items import Shifter, opening_gap
from floorpan.layout import Layout
from floorpan.limits import COMMON
from floorpan.progress import finish

RAW = raw_scan(level_floor(cells=4))
LAYOUT = small_layout(RAW)


def openings(layout: Layout) -> dict[str, Finding]:
    found = finish(evaluate(layout, Bench({RAW.sha256: RAW})))
    return {dict(one.state)["shifter-1.gear"]: one for one in found if one.check == "lever-opening"}


def test_a_lever_on_the_gearbox_wants_12_mm_and_one_on_the_body_8() -> None:
    """6 to 8 mm on the body, 12 to 20 mm on the gearbox: common practice, no source."""
    on_body = openings(LAYOUT)
    on_gearbox = openings(edits.change(LAYOUT, "shifter-1", family="gearbox"))
    assert {one.limit.value for one in on_body.values()} == {8.0}
    assert {one.limit.value for one in on_gearbox.values()} == {12.0}
    assert {one.limit.source for one in on_gearbox.values()} == {COMMON}
    assert {gear: one.value for gear, one in on_body.items()} == {
        g: one.value for g, one in on_gearbox.items()
    }


def test_each_is_changed_by_itself_in_a_project() -> None:
    changed = edits.set_limit(LAYOUT, "lever-opening-gearbox", 18.0, note="soft mounts")
    assert {one.limit.value for one in openings(changed).values()} == {8.0}
    standing = edits.change(changed, "shifter-1", family="gearbox")
    assert {one.limit.value for one in openings(standing).values()} == {18.0}


def test_a_bend_under_the_opening_changes_the_gap() -> None:
    bent = edits.change(LAYOUT, "shifter-1", bend_deg=20.0, bend_mm=50.0)
    before, after = openings(LAYOUT), openings(bent)
    [shifter] = bent.of(Shifter)
    assert isinstance(shifter, Shifter)
    for gear, finding in after.items():
        assert finding.value == pytest.approx(opening_gap(shifter, gear))
    straight = dataclasses.replace(shifter, bend_deg=0.0)
    assert before["N"].value == pytest.approx(opening_gap(straight, "N"))
    assert max(abs((after[gear].value or 0.0) - (before[gear].value or 0.0)) for gear in after) > 1.0
