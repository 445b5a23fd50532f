"""The record of a kind that stays as it is: no state axes, no legs, nothing that travels."""

import dataclasses
from collections.abc import Callable
from typing import TypeVar

from floorpan.geometry.solids import Body
from floorpan.items.placing import Grip, ItemKind, Part, Place, Placed, Point, Stops

Item = TypeVar("Item", bound=Placed)


def still_kind(
    *,
    kind: str,
    label: str,
    model: type[Item],
    parts: Callable[[Item], tuple[Part, ...]],
    envelope: Callable[[Item, str, Stops], Body],
    set_down_mm: Callable[[Item], tuple[Point, ...]],
    foot_below_mm: Callable[[Item], float] = lambda _: 0.0,
    grips: Callable[[Item, Stops], tuple[Grip, ...]] = lambda _, __: (),
) -> ItemKind[Item]:
    """An ItemKind whose answers along a leg are those where it stands; its own functions as in ItemKind."""

    def envelope_between(
        item: Item, part_name: str, stops: Stops, axis: str, a: str, b: str, share: float
    ) -> Body:
        return envelope(item, part_name, stops)

    def grips_between(item: Item, stops: Stops, axis: str, a: str, b: str, share: float) -> tuple[Grip, ...]:
        return grips(item, stops)

    def motion_mm(item: Item, name: str, axis: str, a: str, b: str) -> float:
        return 0.0

    def moved(item: Item, place: Place) -> Item:
        changed: Item = dataclasses.replace(item, place=place)  # type: ignore[type-var]
        return changed

    return ItemKind(
        kind=kind,
        label=label,
        model=model,
        axes=lambda _: (),
        parts=parts,
        envelope=envelope,
        envelope_between=envelope_between,
        motion_mm=motion_mm,
        grips=grips,
        grips_between=grips_between,
        grip_motion_mm=motion_mm,
        set_down_mm=set_down_mm,
        foot_below_mm=foot_below_mm,
        moved=moved,
    )
