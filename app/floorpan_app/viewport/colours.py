"""What the picture takes from the theme record: a colour by role, and how strongly the lamps act."""

from collections.abc import Mapping
from dataclasses import dataclass, fields

from floorpan_app.theme.record import Theme

# Large writing needs 3; light and shade on the ground take some away.
_LEGIBLE = 3.6


@dataclass(frozen=True, slots=True, kw_only=True)
class Colours:
    """Colours by role as `#RRGGBB`, and the shares of light that fall everywhere and from the lamps."""

    roles: Mapping[str, str]
    ambient: float
    diffuse: float

    def __getitem__(self, role: str) -> str:
        return self.roles[role]


def contrast(one: str, other: str) -> float:
    """How well two colours tell apart by lightness, 1 to 21. Source: WCAG 2.2, contrast ratio."""
    high, low = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def legible_on(colours: Colours, ground_role: str) -> str:
    """The quietest writing colour that stands out from a ground; the strongest where none does."""
    ground = colours[ground_role]
    inks = [colours[role] for role in ("ink2", "ink", "bench")]
    return next(
        (ink for ink in inks if contrast(ink, ground) >= _LEGIBLE),
        max(inks, key=lambda ink: contrast(ink, ground)),
    )


def _luminance(colour: str) -> float:
    shares = [int(colour[place : place + 2], 16) / 255.0 for place in (1, 3, 5)]
    linear = [share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4 for share in shares]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def colours_of(theme: Theme) -> Colours:
    """Every colour of a theme under its name in the record; things in the car stand beside grounds and inks."""
    roles = {
        field.name: value
        for record in (theme, theme.things)
        for field in fields(record)
        if isinstance(value := getattr(record, field.name), str) and value.startswith("#")
    }
    return Colours(roles=roles, ambient=theme.lamp.ambient, diffuse=theme.lamp.diffuse)
