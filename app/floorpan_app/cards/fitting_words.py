"""Every sentence and label of the part for what else moves; `{}` fields are filled where they are shown."""

from typing import Final

FITTINGS: Final = "What else moves or is got at"
WORST: Final = "worst of each"
NONE_YET: Final = "A handbrake, a buckle, an armrest: set it down, and it is judged in every state."
KIND: Final = "What to set down"
ADD: Final = "Set it down"
NO_SEAT: Final = "no seat yet"
WHEEL_OFF: Final = "It is {off} off the wheel of the driving position, where it is farthest."
AS_DRIVEN: Final = "Set to the driving position"
AS_DRIVEN_ENTRY: Final = "set {name} to the driving position"
NOT_JUDGED: Final = "nothing near it yet"
