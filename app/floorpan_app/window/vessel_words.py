"""What is said while a vessel's outline is found in a scan of it."""

from typing import Final

DIALOG: Final = "Vessel from a scan of it"
QUESTION: Final = "Which unit is this vessel in?"
FINDING: Final = "Looking for the outline in {name}"
FOUND: Final = "{tall} tall, {across} across"
FITS: Final = (
    "The skin lies on one body of revolution within {rms}, {most} at most. {used} percent of it were used, {seen} "
    "degrees of the way round were scanned."
)
OUTSIDE: Final = (
    "The outline has {n} points and lies up to {outside} outside the fitted skin, nowhere inside it."
)
LEFT_OUT: Final = "What sticks out, a handle for one, is left out."
WEIGHT: Final = "Counted as {kg} kg, full of water. Weigh it and type that on the Cup card."
WHICH_WAY: Final = "Nothing in the scan tells which end is the base. Turn it over where the wide end is not."
TURN_OVER: Final = "Turn it over"
PICTURE: Final = "The outline from the side, base down: {n} points, {tall} tall"
ADD_ENTRY: Final = "add {name}"
