"""Tickets never lie over each other."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan_app.viewport.ticket_places import MOST_TICKETS, Box, Placed, Wanted, place_tickets

PICTURE = Box(4.0, 38.0, 852.0, 520.0)
anchor = st.tuples(st.floats(10.0, 850.0), st.floats(45.0, 550.0))


def wanted(anchors: list[tuple[float, float]], wide: float = 110.0) -> list[Wanted]:
    return [
        Wanted(id=f"gap-{number}", anchor=place, size=(wide, 28.0), tail_deg=-50.0)
        for number, place in enumerate(anchors)
    ]


def boxes(placed: list[Placed]) -> list[Box]:
    return [place.box for place in placed if place.box is not None]


@given(anchors=st.lists(anchor, max_size=12), wide=st.floats(60.0, 260.0))
def test_no_two_overlap_and_all_lie_in_the_picture(anchors: list[tuple[float, float]], wide: float) -> None:
    placed = place_tickets(wanted(anchors, wide), PICTURE, [], {})
    assert [place.id for place in placed] == [f"gap-{number}" for number in range(len(anchors))]
    assert all(one.clear_of(other) for one, other in combinations(boxes(placed), 2))
    assert all(box.within(PICTURE) for box in boxes(placed))
    assert len(boxes(placed)) <= MOST_TICKETS


def test_seven_on_one_spot_all_find_room() -> None:
    placed = place_tickets(wanted([(430.0, 300.0)] * 7), PICTURE, [], {})
    assert len(boxes(placed)) == 7


def test_beyond_seven_the_least_urgent_keep_their_shape_alone() -> None:
    placed = place_tickets(wanted([(60.0 + 80.0 * n, 300.0) for n in range(9)], 60.0), PICTURE, [], {})
    assert [place.box is not None for place in placed] == [True] * 7 + [False] * 2


def test_where_there_is_no_room_the_most_urgent_has_it() -> None:
    small = Box(0.0, 0.0, 150.0, 140.0)
    placed = place_tickets(wanted([(75.0, 70.0)] * 4), small, [], {})
    assert placed[0].box is not None
    assert any(place.box is None for place in placed[1:])


def test_a_ticket_that_can_stay_stays() -> None:
    first = place_tickets(wanted([(430.0, 300.0), (440.0, 300.0)]), PICTURE, [], {})
    tails = {place.id: place.tail for place in first if place.tail is not None}
    # The more urgent neighbour is gone; without a memory the ticket would jump into its place.
    alone = [wanted([(0.0, 0.0), (441.0, 301.0)])[1]]
    after = place_tickets(alone, PICTURE, [], tails)
    assert after[0].tail == tails["gap-1"]
    assert place_tickets(alone, PICTURE, [], {})[0].tail != tails["gap-1"]


def test_lines_are_kept_free_where_there_is_room() -> None:
    ticket = wanted([(430.0, 300.0)])[0]
    plain = place_tickets([ticket], PICTURE, [], {})[0].box
    assert plain is not None
    blocked = Wanted(id="a", anchor=(430.0, 300.0), size=(110.0, 28.0), tail_deg=-50.0, avoids=(plain,))
    other = place_tickets([blocked], PICTURE, [], {})[0].box
    assert other is not None
    assert other.clear_of(plain)


@pytest.mark.parametrize(("left", "apart"), [(10.0, True), (9.0, False)])
def test_boxes_apart(left: float, apart: bool) -> None:
    assert Box(0.0, 0.0, 10.0, 10.0).clear_of(Box(left, 0.0, 5.0, 5.0)) is apart
