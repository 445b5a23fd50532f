"""Readings of pairs: every state that the axes of two members span, and every leg of the first member."""

import functools
from collections.abc import Iterator
from functools import partial

from floorpan.checks.check import Group, Item, Pair, Reading
from floorpan.derive import NO_FOOTING, AreaSurface, Scene
from floorpan.items.states import State, products, state_of
from floorpan.limits import LIMITS, Limit


def limit_for(scene: Scene, id: str) -> Limit:
    """The limit this layout judges by: the shipped one, or the builder's with its note; the very same each time."""

    def make() -> Limit:
        shipped = LIMITS[id]
        for change in scene.layout.limits:
            if change.id == id:
                return Limit(
                    id=id,
                    value=change.value,
                    upper=change.upper,
                    sense=shipped.sense,
                    unit=shipped.unit,
                    source=f"set in this project{': ' + change.note if change.note else ''}",
                    note=shipped.note,
                )
        return shipped

    return scene.memory.get(("limit", id), (scene.layout.limits,), make)


def states(scene: Scene, *ids: str) -> Iterator[State]:
    """Every state over the axes that move the given things or parts."""
    axes = {axis: stops for id in ids for axis, stops in scene.axes_of(id)}
    yield from _every(tuple(axes.items()))


@functools.lru_cache(maxsize=1024)
def _every(axes: tuple[tuple[str, tuple[str, ...]], ...]) -> tuple[State, ...]:
    return tuple(products(axes))


def legs(scene: Scene, mover: str, *others: str) -> Iterator[tuple[State, State, str, tuple[str, str]]]:
    """(state with the leg as a stop, rest state, axis, leg) for every leg of the mover's axes, others standing."""
    for axis, _ in scene.axes_of(mover):
        rest = {a: s for id in (mover, *others) for a, s in scene.axes_of(id) if a != axis}
        for leg in scene.legs_of(axis):
            for state in products(rest.items()):
                yield state_of({**dict(state), axis: f"{leg[0]}-{leg[1]}"}), state, axis, leg


def to_area(scene: Scene, mover: str, area: AreaSurface, limit: str, *, moving: bool) -> tuple[Item, ...]:
    """A mover against an area of the scan, standing in every state or on every leg.

    The very same while nothing of it changed.
    """
    floor = scene.floor_of(area)
    carpet = scene.layout.carpet_on(area.id).loose_mm if area.carpeted else 0.0
    good_to = float(scene.layout.scan(floor.scan.id).good_to_mm)
    wanted = limit_for(scene, limit)
    subjects, rest = (mover, area.id), (area, floor, wanted, carpet, good_to)

    def on_way(stand: State, axis: str, leg: tuple[str, str]) -> tuple[object, ...]:
        return scene.motion(mover, stand, axis, leg), *rest

    def on_legs() -> Iterator[Reading]:
        pair = Pair(scene.footing(mover), NO_FOOTING, rest)
        for state, stand, axis, leg in legs(scene, mover):
            yield Reading(subjects, state, partial(on_way, stand, axis, leg), pair)

    def inputs(state: State) -> tuple[object, ...]:
        return scene.body(mover, state), *rest

    def one(group: Group, state: State) -> Reading:
        return Reading(subjects, state, partial(inputs, state), group.pair)

    def standing(group: Group) -> Iterator[Reading]:
        return (one(group, state) for state in states(scene, mover))

    def make() -> tuple[Item, ...]:
        if moving:
            return tuple(on_legs())
        return (Group(subjects, scene.footing(mover), NO_FOOTING, rest, standing, one),)

    name = ("to area", mover, area.id, limit, moving, carpet, good_to)
    return scene.memory.get(name, (*scene.rests_on(mover), area, floor, wanted), make)


def _met(scene: Scene, other: str) -> str:
    """What is met, by the thing's name; a hand or a limb is told by what it is called itself."""
    owner, _, part = other.partition(".")
    if part == "hand" or any(person.id == owner for person in scene.layout.people):
        return ""
    return scene.layout.thing(owner).name


def between(scene: Scene, mover: str, other: str, limit: str, *, moving: bool) -> tuple[Item, ...]:
    """A mover against a placed thing, standing in every state or the mover on every leg.

    The very same while nothing of them changed.
    """
    words = _met(scene, other)
    wanted = limit_for(scene, limit)
    subjects, rest = (mover, other), (wanted, words)

    def on_way(stand: State, axis: str, leg: tuple[str, str]) -> tuple[object, ...]:
        return scene.motion(mover, stand, axis, leg), scene.body(other, stand), *rest

    def on_legs() -> Iterator[Reading]:
        pair = Pair(scene.footing(mover), scene.footing(other), rest)
        for state, stand, axis, leg in legs(scene, mover, other):
            yield Reading(subjects, state, partial(on_way, stand, axis, leg), pair)

    def inputs(state: State) -> tuple[object, ...]:
        return scene.body(mover, state), scene.body(other, state), *rest

    def one(group: Group, state: State) -> Reading:
        return Reading(subjects, state, partial(inputs, state), group.pair)

    def standing(group: Group) -> Iterator[Reading]:
        return (one(group, state) for state in states(scene, mover, other))

    def make() -> tuple[Item, ...]:
        if moving:
            return tuple(on_legs())
        return (Group(subjects, scene.footing(mover), scene.footing(other), rest, standing, one),)

    made_from = (*scene.rests_on(mover), *scene.rests_on(other), wanted)
    return scene.memory.get(("between", mover, other, limit, moving, words), made_from, make)
