"""Tipping and sliding of a thing that stands free, by textbook statics.

It tips about the edge of its foot where the push times the height of its centre of gravity outweighs its weight
times half its foot's width; it slides where the push outweighs its weight times the grip (the coefficient of
friction). Whichever needs less comes first.
"""

import math
from dataclasses import dataclass
from typing import Literal

G_MS2 = 9.80665
SHELF_GRIP = 0.4
"""Coefficient of friction of a vessel on a hard shelf; default, edit me."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """The acceleration at which a thing tips and slides [g], and which comes first."""

    tips_g: float
    slides_g: float

    @property
    def first(self) -> Literal["tips", "slides"]:
        """What happens first; at the very same push it tips."""
        return "slides" if self.slides_g < self.tips_g else "tips"

    @property
    def moves_g(self) -> float:
        """The acceleration at which it no longer stands still [g]."""
        return min(self.tips_g, self.slides_g)


def standing(
    foot_radius_mm: float, centre_mm: float, grip: float, *, unloaded_g: float = 0.0, lean_deg: float = 0.0
) -> Standing:
    """A thing on a shelf pushed sideways.

    foot_radius_mm : half the width of what it stands on, towards the push
    centre_mm      : its centre of gravity over the shelf
    grip           : coefficient of friction
    unloaded_g     : what a bump takes off its weight
    lean_deg       : how far the shelf falls away towards the push
    """
    down = max(1.0 - unloaded_g, 0.0)
    lean = math.radians(lean_deg)

    def at(ratio: float) -> float:
        return max(down * math.tan(max(math.atan(ratio) - lean, 0.0)), 0.0)

    return Standing(tips_g=at(foot_radius_mm / centre_mm) if centre_mm > 0.0 else math.inf, slides_g=at(grip))


def slides_at_n(mass_kg: float, grip: float, gravity_ms2: float = G_MS2) -> float:
    """The level push that makes a thing slide [N]."""
    return grip * mass_kg * gravity_ms2


def tips_at_n(
    mass_kg: float, half_foot_mm: float, push_height_mm: float, gravity_ms2: float = G_MS2
) -> float:
    """The level push at a height that tips a thing over the edge of its foot [N]."""
    return mass_kg * gravity_ms2 * half_foot_mm / push_height_mm


def highest_push_mm(half_foot_mm: float, grip: float) -> float:
    """The greatest height at which a push slides a thing rather than tips it [mm]."""
    return half_foot_mm / grip
