"""The hand in the viewport: each tool's events become previews and edits of the layout."""

from floorpan_app.stage.hands.hand import Around, Drawn, Hand
from floorpan_app.stage.hands.holding import Holding

__all__ = ["Around", "Drawn", "Hand", "Holding"]
