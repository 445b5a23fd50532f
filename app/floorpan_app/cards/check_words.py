"""What the Check card says."""

from typing import Final

FOUND: Final = "Found"
VERDICT_MEANS: Final = {
    "hits": "touching, or one in the other",
    "short": "apart, but less than is wanted",
    "unseen": "never scanned there",
    "close": "too close to call",
    "pending": "being worked out",
    "clear": "more than is wanted",
}
TRY_IT: Final = "Try it"
TRY_IT_TOLD: Final = "Moves it so. Undo puts it back."
CURE_ENTRY: Final = "move {name} clear"
HELD_TO: Final = "Only {words}, as in the matrix."
EVERY_STATE: Final = "Every state again"
SHOW_ONLY: Final = "List only"
EVERY_PAIR: Final = "every pair"
PAIR: Final = "Pair"
LIST_BELOW: Final = "The list below follows. F7 goes to the next that is not clear."
