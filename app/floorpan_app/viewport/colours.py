"""What the picture takes from the theme record: a colour by role, and how strongly the lamps act."""

from collections.abc import Mapping
from dataclasses import dataclass, fields

from floorpan_app.theme.record import Theme


@dataclass(frozen=True, slots=True, kw_only=True)
class Colours:
    """Colours by role as `#RRGGBB`, and the shares of light that fall everywhere and from the lamps."""

    roles: Mapping[str, str]
    ambient: float
    diffuse: float

    def __getitem__(self, role: str) -> str:
        return self.roles[role]


def colours_of(theme: Theme) -> Colours:
    """Every colour of a theme under its name in the record; things in the car stand beside grounds and inks."""
    roles = {
        field.name: value
        for record in (theme, theme.things)
        for field in fields(record)
        if isinstance(value := getattr(record, field.name), str) and value.startswith("#")
    }
    return Colours(roles=roles, ambient=theme.lamp.ambient, diffuse=theme.lamp.diffuse)
