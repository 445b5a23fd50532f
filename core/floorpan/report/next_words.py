"""What to do about a finding that no cure is known for."""

from typing import Final

UNSEEN: Final = "Probe there, or scan again."
NO_MOVE: Final = "No single move was found that clears it."
CLOSE: Final = "Most of the give or take: {name}, \u00b1 {u}."
