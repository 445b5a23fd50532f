"""The page to scan by."""

import pytest

from floorpan.errors import BadValue
from floorpan.scan.checklist import NeededArea, checklist


def test_one_row_an_area_in_the_order_of_scanning() -> None:
    page = checklist(
        [
            NeededArea(kind="dash", check="Hand to dash"),
            NeededArea(kind="tunnel top", check="Console to tunnel", state="supplied"),
            NeededArea(kind="dash", check="Console to dash", state="supplied"),
            NeededArea(kind="dash", check="Hand to dash", state="absent"),
            NeededArea(kind="roll bar", check="Elbow to bar", state="absent"),
        ]
    )
    assert [(row.area, row.checks, row.state) for row in page.rows] == [
        ("tunnel top", ("Console to tunnel",), "supplied"),
        ("dash", ("Hand to dash", "Console to dash"), "missing"),
        ("roll bar", ("Elbow to bar",), "absent"),
    ]
    assert all(row.why.endswith(".") and row.how.endswith(".") for row in page.rows)
    assert len(page.before) >= 5


def test_nothing_needed_is_an_empty_page() -> None:
    assert checklist([]).rows == ()


def test_every_kind_of_area_has_its_own_reason() -> None:
    from floorpan.layout import AREA_KINDS

    page = checklist(NeededArea(kind=kind, check="any") for kind in AREA_KINDS)
    assert len({row.why for row in page.rows}) == len(AREA_KINDS)


def test_a_state_that_is_none_is_refused() -> None:
    with pytest.raises(BadValue):
        NeededArea(kind="dash", check="any", state="perhaps")
