"""An outline drawn over a scan from any side, as it is kept: a prism along the line of sight."""

from dataclasses import dataclass

from shapely.geometry import Polygon

from floorpan.errors import BadValue
from floorpan.frames import Pose

Corners = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """What lies inside a drawn outline, or outside it.

    frame      : from the outline's coordinates into the scan's own; z is the line of sight
    corners_mm : where it turns, in the frame's x and y [mm], three or more; it closes by itself
    keep       : whether what is inside stays, or goes

    Raises BadValue for fewer corners, and for an outline that crosses itself or has no area.
    """

    frame: Pose
    corners_mm: Corners
    keep: bool = True

    def __post_init__(self) -> None:
        if len(self.corners_mm) < 3 or not Polygon(self.corners_mm).is_valid:
            raise BadValue(
                "outline-crosses",
                "This outline crosses itself or holds nothing.",
                "Draw it again, all the way round.",
            )
