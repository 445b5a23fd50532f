"""What a cup holder's wall is like, and which fields make it another one."""

from collections.abc import Mapping
from typing import Literal

from floorpan.items import CupHolder

Wall = Literal["straight", "tapered", "stepped"]

# What a new taper or step begins with; default, edit me.
_NARROWER_MM = 8.0
_STEP_SHARE = 0.5
_NARROWEST_MM = 30.0


def wall_of(holder: CupHolder) -> Wall:
    """Straight, tapered or stepped; a step goes first where there is a taper too."""
    if holder.step_mm > 0.0 and holder.step_depth_mm > 0.0:
        return "stepped"
    return "straight" if holder.base_mm == holder.mouth_mm else "tapered"


def with_wall(holder: CupHolder, wall: str) -> dict[str, float]:
    """The fields that make its wall another one; none where it is that already."""
    if wall == wall_of(holder):
        return {}
    if wall == "stepped":
        step = max(min(holder.base_mm, holder.mouth_mm) - _NARROWER_MM, _NARROWEST_MM)
        return {"step_mm": step, "step_depth_mm": round(holder.depth_mm * _STEP_SHARE)}
    plain = {"step_mm": 0.0, "step_depth_mm": 0.0}
    if wall == "straight":
        return {**plain, "base_mm": holder.mouth_mm}
    if holder.base_mm != holder.mouth_mm:
        return plain
    base = max(holder.mouth_mm - _NARROWER_MM, _NARROWEST_MM)
    return {**plain, "base_mm": base, "mouth_mm": max(holder.mouth_mm, base + _NARROWER_MM)}


def with_ring(holder: CupHolder, ring: bool) -> dict[str, float]:
    """The fields that put a second ring over the mouth, as wide as it, or take it away."""
    return {"ring_mm": holder.mouth_mm if ring else 0.0}


def along(holder: object, name: str, value: object) -> Mapping[str, object]:
    """A straight wall stays straight: its base goes with its mouth."""
    assert isinstance(holder, CupHolder)
    return {"base_mm": value} if name == "mouth_mm" and holder.base_mm == holder.mouth_mm else {}


def shown_fields(holder: CupHolder) -> dict[str, bool]:
    """Which fields say something of this holder."""
    stepped, pressed = wall_of(holder) == "stepped", holder.grip != "stiff wall"
    ring = holder.ring_mm > 0.0
    return {
        "base_mm": holder.base_mm != holder.mouth_mm,
        "step_mm": stepped,
        "step_depth_mm": stepped,
        "ring_mm": ring,
        "ring_over_mm": ring,
        "grip_reach_mm": pressed,
        "grip_n_per_mm": pressed,
    }


def step_is_too_high(holder: CupHolder) -> bool:
    """Whether its lower step reaches its mouth, so that it counts for nothing."""
    return wall_of(holder) == "stepped" and holder.step_depth_mm >= holder.depth_mm
