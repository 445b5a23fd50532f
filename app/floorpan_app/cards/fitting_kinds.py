"""What else moves or must be got at: the kinds of it, with the measures that are shown first."""

from dataclasses import dataclass
from typing import Any, Final

from floorpan.items import Armrest, Buckle, DashEdge, Door, Flap, Handbrake, KeepOut, Wheel
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
    FittingKind(
        model=Armrest,
        kind="armrest",
        first=("name", "length_mm", "width_mm", "height_mm", "hinge", "open_deg"),
        more=("pad_mm", "radius_mm", "stands_on"),
    ),
    FittingKind(
        model=Wheel,
        kind="wheel",
        first=("name", "across_mm", "rim_mm", "lean_deg"),
        more=("stalk_mm", "stalk_ahead_mm", "stalk_radius_mm"),
    ),
    FittingKind(
        model=KeepOut,
        kind="keep-out",
        first=("name", "form", "what_for", "radius_mm", "depth_mm", "length_mm"),
        more=("width_mm", "height_mm", "rise_deg"),
    ),
    FittingKind(
        model=Flap,
        kind="flap",
        first=("name", "length_mm", "depth_mm", "closed_deg", "open_deg"),
        more=("thick_mm", "stands_on"),
    ),
    FittingKind(
        model=DashEdge,
        kind="dash edge",
        first=("name", "across_mm", "slant_mm", "rise_mm"),
        more=("thick_mm", "depth_mm"),
    ),
    FittingKind(
        model=Door,
        kind="door",
        first=("name", "side", "length_mm", "open_deg", "bulge_mm", "bulge_from_mm", "bulge_length_mm"),
        more=("height_mm", "thick_mm", "bulge_low_mm", "bulge_high_mm", "hinge_back_deg", "hinge_in_deg"),
    ),
)


def fittings_of(layout: Layout) -> tuple[Thing, ...]:
    """What is placed of these kinds, in the order it was."""
    models = tuple(one.model for one in FITTING_KINDS)
    return tuple(thing for thing in layout.things() if isinstance(thing, models))
