"""What else moves or must be got at: the kinds of it, with the measures that are shown first."""

from dataclasses import dataclass
from typing import Any, Final

from floorpan.items import Buckle, Handbrake
from floorpan.layout import Layout, Thing


@dataclass(frozen=True, slots=True, kw_only=True)
class FittingKind:
    """One kind: its model, its word in the tools' names, the measures shown first and those folded away."""

    model: type[Any]
    kind: str
    first: tuple[str, ...]
    more: tuple[str, ...]


FITTING_KINDS: Final = (
    FittingKind(
        model=Handbrake,
        kind="handbrake",
        first=("name", "lever_mm", "down_deg", "up_deg", "pivot_mm"),
        more=("grip_mm", "grip_radius_mm", "lever_radius_mm", "button_mm", "stands_on"),
    ),
    FittingKind(
        model=Buckle,
        kind="buckle",
        first=("name", "seat_id", "bolted_to", "pressed_at", "stalk_mm", "lean_deg", "side_deg"),
        more=("buckle_mm", "broad_mm", "thick_mm", "stalk_radius_mm"),
    ),
)


def fittings_of(layout: Layout) -> tuple[Thing, ...]:
    """What is placed of these kinds, in the order it was."""
    models = tuple(one.model for one in FITTING_KINDS)
    return tuple(thing for thing in layout.things() if isinstance(thing, models))
