"""The viewport as the window knows it."""

from collections.abc import Callable, Mapping

from PySide6.QtWidgets import QWidget

from floorpan.project.strict_json import Json
from floorpan_app.theme.record import Theme
from floorpan_app.viewport.eye import Eye
from floorpan_app.viewport.scale_painting import Insets
from floorpan_app.viewport.view import Viewport
from floorpan_app.viewport.views import SEEN_FROM, SeenFrom

_FARTHEST = 1e6


class ViewportPicture:
    """Hands on what the window says to a viewport."""

    def __init__(self, viewport: Viewport) -> None:
        self._viewport = viewport

    def widget(self) -> QWidget:
        return self._viewport

    def set_theme(self, theme: Theme) -> None:
        self._viewport.set_theme(theme)

    def set_insets(self, top: float, bottom: float) -> None:
        self._viewport.overlay.set_insets(Insets(top=top, bottom=bottom))

    def on_camera(self, told: Callable[[], None]) -> None:
        self._viewport.camera_changed.connect(told)

    def on_ticket(self, clicked: Callable[[str], None], pointed: Callable[[str], None]) -> None:
        self._viewport.ticket_clicked.connect(clicked)
        self._viewport.ticket_pointed.connect(pointed)

    def seen_from(self) -> str:
        return self._viewport.camera.seen_from

    def view(self) -> dict[str, Json]:
        eye = self._viewport.camera.eye
        kept: dict[str, Json] = {
            "target_mm": list(eye.target_mm),
            "heading_deg": eye.heading_deg,
            "rise_deg": eye.rise_deg,
            "distance_mm": eye.distance_mm,
            "parallel": eye.parallel,
        }
        return {"seen_from": self._viewport.camera.seen_from, "eye": kept}

    def look(self, view: Mapping[str, Json]) -> None:
        seen_from: SeenFrom = next((word for word in SEEN_FROM if word == view.get("seen_from")), "free")
        eye = _eye(view.get("eye"))
        if eye is None:
            self._viewport.camera.see_from(seen_from)
        else:
            self._viewport.camera.look(eye, seen_from)

    def close(self) -> None:
        self._viewport.close()


def _eye(kept: Json) -> Eye | None:
    """An eye as it was kept, None for anything else: the file may have been edited by hand."""
    if not isinstance(kept, dict):
        return None
    target, parallel = kept.get("target_mm"), kept.get("parallel")
    numbers = [kept.get(name) for name in ("heading_deg", "rise_deg", "distance_mm")]
    numbers += target if isinstance(target, list) and len(target) == 3 else [None]
    if not isinstance(parallel, bool) or not all(
        isinstance(n, int | float) and abs(n) < 1e6 for n in numbers
    ):
        return None
    heading, rise, distance, x, y, z = (float(str(number)) for number in numbers)
    if distance <= 0.0:
        return None
    return Eye(
        target_mm=(x, y, z), heading_deg=heading, rise_deg=rise, distance_mm=distance, parallel=parallel
    )
