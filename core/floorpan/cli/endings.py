"""How a command can end, as the system hears it."""

from typing import Final

DONE: Final = 0
NOT_CLEAR: Final = 1
WRONG: Final = 2
STOPPED: Final = 130
