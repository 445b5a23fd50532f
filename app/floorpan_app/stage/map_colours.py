"""The colours and the legend of a map on a scan."""

import numpy as np
from numpy.typing import NDArray

from floorpan.units import System, mm_per, show_number
from floorpan_app.scans_in_hand import ScanMap
from floorpan_app.stage import words
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.theme.record import load_maps
from floorpan_app.viewport.marks import Legend
from floorpan_app.viewport.surfaces import Shading


def shading_of(map: ScanMap, values: NDArray[np.float64]) -> Shading:
    """Colours of values (N,) at the points of a piece."""
    return Shading(
        values=values,
        stops=_stops(map),
        least=map.least_mm,
        greatest=map.greatest_mm,
        unknown=theme_in_use().things.scan,
        isolines_at=map.limits_mm,
    )


def legend_of(map: ScanMap, system: System) -> Legend:
    """What the colours say, in the shown unit."""
    span = map.greatest_mm - map.least_mm
    at = sorted({map.least_mm, *map.limits_mm, map.greatest_mm, *((0.0,) if map.least_mm < 0.0 else ())})
    ticks = tuple(((mm - map.least_mm) / span, _length(mm, system)) for mm in at)
    most = float(np.abs(map.value_mm).max(initial=0.0))
    past = most > max(abs(map.least_mm), abs(map.greatest_mm))
    return Legend(
        title=map.title.format(unit=system),
        stops=_stops(map),
        ticks=ticks,
        beyond=words.MAP_BEYOND.format(most=_length(most, system)) if past else "",
    )


def _stops(map: ScanMap) -> tuple[str, ...]:
    maps = load_maps()
    return maps.deviation if map.least_mm < 0.0 else maps.noise


def _length(mm: float, system: System) -> str:
    # A sixteenth of an inch is coarser than any of these.
    return show_number(mm / mm_per(system), 2 if system == "mm" else 3)
