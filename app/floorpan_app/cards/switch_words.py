"""Every sentence and label of the switches' part; `{}` fields are filled where they are shown."""

from typing import Final

SWITCHES: Final = "Switches and buttons"
TO_SPARE: Final = "to spare, belts tight"
NONE_YET: Final = "What else the hand goes for: set it down, and reach is judged for every driver."
ADD: Final = "Set a switch down"
TOUCHED: Final = {
    "whole hand": "whole hand",
    "three fingers": "three fingers",
    "fingertip": "a fingertip",
}
HOW: Final = "{touch} of the {hand}"
