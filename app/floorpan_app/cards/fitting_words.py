"""Every sentence and label of the part for what else moves; `{}` fields are filled where they are shown."""

from typing import Final

FITTINGS: Final = "What else moves or is got at"
WORST: Final = "worst of each"
NONE_YET: Final = "A handbrake, a buckle, an armrest: set it down, and it is judged in every state."
KIND: Final = "What to set down"
ADD: Final = "Set it down"
NO_SEAT: Final = "no seat yet"
NOT_JUDGED: Final = "nothing near it yet"
