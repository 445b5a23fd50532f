"""How finely to draw: coarse while something moves and drawing is slow, smooth edges once all is still."""

from PySide6.QtCore import QObject, QTimer, Signal

# A whole picture that takes longer than this is drawn coarsely while something moves.
SLOW_S = 0.025
_STILL_MS = 150
# The pause after which all counts as still is at least this many pictures long, or slow pictures would end it.
_PICTURES = 3.0


class Pace(QObject):
    """Watches how long pictures take. `stilled` asks for one more picture, made with care."""

    stilled = Signal()

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._still = True
        self._whole_s = 0.0
        self._last_s = 0.0
        self._wait = QTimer(self)
        self._wait.setSingleShot(True)
        self._wait.timeout.connect(self._now_still)

    @property
    def coarse(self) -> bool:
        """Whether big meshes are drawn by their stand-ins."""
        return not self._still and self._whole_s > SLOW_S

    @property
    def smooth(self) -> bool:
        """Whether edges are smoothed: always where drawing is fast, else once all is still."""
        return self._still or self._whole_s < SLOW_S

    def moved(self) -> None:
        """Something in the picture moved."""
        self._still = False
        self._wait.start(max(_STILL_MS, round(_PICTURES * 1000.0 * self._last_s)))

    def took(self, seconds: float) -> None:
        """A picture was made."""
        self._last_s = seconds
        if not self.coarse:
            self._whole_s = seconds

    def be_still(self) -> None:
        """The next picture is made with care."""
        self._wait.stop()
        self._still = True

    def stop(self) -> None:
        """Ask for no more pictures."""
        self._wait.stop()

    def _now_still(self) -> None:
        was_plain = self.coarse or not self.smooth
        self._still = True
        if was_plain:
            self.stilled.emit()
