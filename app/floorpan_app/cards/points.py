"""Picked points as values: adding, changing and leaving out one of them, its mate with it."""

import itertools
import string
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final, cast

from floorpan.frames import Vector
from floorpan.scan.axes import AxisPick, Role
from floorpan_app.cards import words

Picks = tuple[AxisPick, ...]

ROLES: Final[tuple[Role, ...]] = ("level", "pair", "centre", "origin", "front", "above")
_OTHER: Final = {"left": "right", "right": "left"}


def free_letter(picks: Sequence[AxisPick]) -> str:
    """A letter that no point carries yet: A to Z, then AA and on."""
    taken = {pick.id for pick in picks}
    return next(letter for letter in _letters() if letter not in taken)


def _letters() -> Iterator[str]:
    for length in itertools.count(1):
        for made in itertools.product(string.ascii_uppercase, repeat=length):
            yield "".join(made)


def added(picks: Picks, role: Role, at_mm: Vector) -> tuple[Picks, str]:
    """The points with one more, and its letter; a pair point takes the one that has no mate yet for its mate."""
    letter = free_letter(picks)
    more = (*picks, AxisPick(id=letter, at_mm=at_mm, role="level"))
    return with_role(more, letter, role), letter


def with_role(picks: Picks, letter: str, role: Role) -> Picks:
    """Another role for a point; one that was half of a pair lets its mate go. The role it has changes nothing."""
    if any(pick.id == letter and pick.role == role for pick in picks):
        return picks
    if role != "pair":
        return _changed(_let_go(picks, letter), letter, role=role, side="", partner="")
    lone = next((p for p in picks if p.role == "pair" and not p.partner and p.id != letter), None)
    if lone is None:
        return _changed(picks, letter, role="pair", side="left", partner="")
    side = _OTHER.get(lone.side, "right")
    return _changed(_changed(picks, letter, role="pair", side=side, partner=lone.id), lone.id, partner=letter)


def with_partner(picks: Picks, letter: str, partner: str) -> Picks:
    """Another mate, "" for none; both lose the mates they had, and the mate takes the other side."""
    free = _let_go(picks, letter)
    if not partner:
        return _changed(free, letter, partner="")
    free = _let_go(free, partner)
    side = next(pick.side for pick in free if pick.id == letter) or "left"
    return _changed(
        _changed(free, letter, side=side, partner=partner), partner, side=_OTHER[side], partner=letter
    )


def with_side(picks: Picks, letter: str, side: str) -> Picks:
    """The other side; its mate changes sides too."""
    mate = next(pick.partner for pick in picks if pick.id == letter)
    swapped = _changed(picks, letter, side=side)
    return _changed(swapped, mate, side=_OTHER[side]) if mate else swapped


def with_name(picks: Picks, letter: str, name: str) -> Picks:
    """Another name."""
    return _changed(picks, letter, name=name)


def moved(picks: Picks, letter: str, at_mm: Vector) -> Picks:
    """The point somewhere else, in the scan's own coordinates [mm]."""
    return _changed(picks, letter, at_mm=at_mm)


def without(picks: Picks, letter: str) -> Picks:
    """The points without one; its mate stays, alone."""
    return tuple(pick for pick in _let_go(picks, letter) if pick.id != letter)


def role_words(pick: AxisPick) -> str:
    """What a point is, in a word or two."""
    if pick.role != "pair":
        return words.ROLE_SHORT[pick.role]
    told = words.PAIR_OF if pick.partner else words.HALF_PAIR
    return told.format(side=pick.side, partner=pick.partner)


def as_role(key: str) -> Role:
    """A role from a word of a list."""
    return cast(Role, key)


def _let_go(picks: Picks, letter: str) -> Picks:
    """Nobody calls this point its mate any more."""
    return tuple(replace(pick, partner="") if pick.partner == letter else pick for pick in picks)


def _changed(picks: Picks, letter: str, **changes: object) -> Picks:
    return tuple(replace(pick, **changes) if pick.id == letter else pick for pick in picks)  # type: ignore[arg-type]
