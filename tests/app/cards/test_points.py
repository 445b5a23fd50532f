"""Picked points as values: letters, pairs and their mates."""

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.scan.axes import AxisPick
from floorpan_app.cards import points
from floorpan_app.cards.points import Picks

HERE = (0.0, 0.0, 0.0)


def picked(*roles: str) -> Picks:
    """Points A, B, C and on, one after the other."""
    picks: Picks = ()
    for role in roles:
        picks, _ = points.added(picks, points.as_role(role), HERE)
    return picks


def told(picks: Picks) -> list[str]:
    return [f"{pick.id} {points.role_words(pick)}" for pick in picks]


def test_letters_go_from_a_to_z_and_on() -> None:
    assert [pick.id for pick in picked(*["level"] * 28)][:2] == ["A", "B"]
    assert [pick.id for pick in picked(*["level"] * 28)][25:] == ["Z", "AA", "AB"]


def test_a_letter_that_was_left_out_is_given_again() -> None:
    left = points.without(picked("level", "level", "level"), "B")
    assert points.free_letter(left) == "B"


def test_the_second_of_a_pair_takes_the_lone_one_for_its_mate() -> None:
    assert told(picked("pair")) == ["A left, no mate"]
    assert told(picked("pair", "level", "pair")) == ["A left of C", "B level", "C right of A"]
    assert told(picked("pair", "pair", "pair")) == ["A left of B", "B right of A", "C left, no mate"]


def test_the_mate_of_a_lone_right_one_is_the_left_one() -> None:
    lone = points.with_side(picked("pair"), "A", "right")
    after, letter = points.added(lone, "pair", HERE)
    assert letter == "B"
    assert told(after) == ["A right of B", "B left of A"]


def test_a_point_that_is_no_longer_of_a_pair_lets_its_mate_go() -> None:
    after = points.with_role(picked("pair", "pair"), "A", "centre")
    assert told(after) == ["A centre", "B right, no mate"]
    assert (after[0].side, after[0].partner) == ("", "")


def test_choosing_the_role_it_has_changes_nothing() -> None:
    paired = picked("pair", "pair", "pair")
    for pick in paired:
        assert points.with_role(paired, pick.id, "pair") == paired
    levels = picked("level", "level")
    assert points.with_role(levels, "A", "level") == levels


def test_another_mate_sets_both_old_ones_free() -> None:
    two_pairs = picked("pair", "pair", "pair", "pair")
    after = points.with_partner(two_pairs, "A", "D")
    assert told(after) == ["A left of D", "B right, no mate", "C left, no mate", "D right of A"]


def test_two_of_the_same_side_become_a_pair_of_both_sides() -> None:
    after = points.with_partner(picked("pair", "pair", "pair"), "A", "C")
    assert told(after) == ["A left of C", "B right, no mate", "C right of A"]


def test_no_mate_leaves_both_alone() -> None:
    assert told(points.with_partner(picked("pair", "pair"), "B", "")) == [
        "A left, no mate",
        "B right, no mate",
    ]


def test_sides_are_changed_together() -> None:
    assert told(points.with_side(picked("pair", "pair"), "A", "right")) == ["A right of B", "B left of A"]
    assert told(points.with_side(picked("pair"), "A", "right")) == ["A right, no mate"]


def test_leaving_one_out_leaves_its_mate_alone() -> None:
    assert told(points.without(picked("pair", "pair", "level"), "A")) == ["B right, no mate", "C level"]


def test_name_and_place_change_that_point_only() -> None:
    before = picked("level", "level")
    named = points.with_name(before, "B", "rear sill")
    assert [pick.name for pick in named] == ["", "rear sill"]
    moved = points.moved(named, "B", (1.0, 2.0, 3.0))
    assert moved == (before[0], AxisPick(id="B", at_mm=(1.0, 2.0, 3.0), role="level", name="rear sill"))


Change = Callable[[Picks, str, str], Picks]
CHANGES: dict[str, Change] = {
    "role": lambda picks, letter, other: points.with_role(picks, letter, points.ROLES[ord(other) % 6]),
    "pair": lambda picks, letter, _: points.with_role(picks, letter, "pair"),
    "mate": lambda picks, letter, other: points.with_partner(picks, letter, other),
    "no mate": lambda picks, letter, _: points.with_partner(picks, letter, ""),
    "side": lambda picks, letter, other: points.with_side(picks, letter, ("left", "right")[ord(other) % 2]),
    "out": lambda picks, letter, _: points.without(picks, letter),
    "add": lambda picks, _, other: points.added(picks, points.ROLES[ord(other) % 6], HERE)[0],
}


def can_be(change: str, picks: Picks, letter: str, other: str) -> bool:
    """What the card offers: side and mate to a point of a pair only, another one of a pair for a mate."""
    pairs = {pick.id for pick in picks if pick.role == "pair"}
    there = {pick.id for pick in picks}
    if change == "mate":
        return letter in pairs and other in pairs and letter != other
    return change == "add" or letter in (pairs if change in ("side", "no mate") else there)


@given(
    st.lists(st.tuples(st.sampled_from(sorted(CHANGES)), st.sampled_from("ABCDE"), st.sampled_from("ABCDE")))
)
def test_whatever_is_done_mates_know_each_other(changes: list[tuple[str, str, str]]) -> None:
    picks = picked("pair", "pair", "pair", "level", "pair")
    for change, letter, other in changes:
        if can_be(change, picks, letter, other):
            picks = CHANGES[change](picks, letter, other)
        by_letter = {pick.id: pick for pick in picks}
        assert len(by_letter) == len(picks), "a letter is carried twice"
        for pick in picks:
            assert bool(pick.side) == (pick.role == "pair")
            if pick.partner:
                mate = by_letter[pick.partner]
                assert mate.partner == pick.id
                assert {pick.side, mate.side} == {"left", "right"}


@pytest.mark.parametrize("role", points.ROLES)
def test_every_role_has_its_word(role: str) -> None:
    assert told(picked(role))[0] == ("A left, no mate" if role == "pair" else f"A {role}")
