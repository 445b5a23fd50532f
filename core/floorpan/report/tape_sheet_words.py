"""Headings and hand-written lines of the tape sheet."""

from typing import Final

TAPE_SHEET: Final = "Tape sheet"
PURPOSE: Final = "two drivers, taped"
NO_PROJECT: Final = "before the first project"
FIRST: Final = (
    "Lengths in {unit}. Shoes, jacket and seat notch as you drive. Somebody else holds the tape: twice each, and a "
    "third time where the two differ by more than {differ}. What stays blank follows from the rest of the body."
)
DIFFER_MM: Final = 10.0
IN_THE_CAR: Final = "The arm, and belted into the seat: reach follows from these"
POINTS: Final = "Points in the car, from where you measure everything: rearward, to the right, up"
MORE: Final = "More of the body: each one makes what is left blank surer"
DRIVER: Final = "Driver {n}"
NOTCH: Final = "seat notch"
REARWARD: Final = "rear"
RIGHT: Final = "right"
UP: Final = "up"
FOOT: Final = " \u00b7 floorpan {version} \u00b7 lengths in {unit}"
WEIGHT_UNIT: Final = "kg"
SAYS_NAMES: Final = "Lines for the names and seat notches of two drivers."
SAYS_ENTRY: Final = "{label}: {says} Lines for two drivers."

NOT_PDF: Final = ("A tape sheet cannot be written as \u201c{suffix}\u201d.", "End the file name in .pdf.")
