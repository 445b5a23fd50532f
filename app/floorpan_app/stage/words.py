"""Every sentence and label of the stage; `{}` fields are filled where they are shown."""

from typing import Final

DRAWING_SCAN: Final = "Drawing the scan"
CUTTING_OUT: Final = "Cutting out what is shown"

# --- sides --------------------------------------------------------------------------------------------------------
DRIVER_SIDE: Final = "driver side"
PASSENGER_SIDE: Final = "passenger side"
FLOOR_DRIVER: Final = "DRIVER SIDE"
FLOOR_FRONT: Final = "FRONT"
# Until a scan is set into car axes its sides have letters, the same as under *Seen from*.
SIDES: Final = {"front": "side C", "rear": "side D", "left": "side A", "right": "side B"}
SIDES_UP: Final = ("above", "below")
AXES: Final = ("X rear", "Y right", "Z up")
CENTRE_PLANE: Final = "centre plane"
