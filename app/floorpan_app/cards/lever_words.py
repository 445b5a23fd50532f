"""Every sentence and label of the lever's part; `{}` fields are filled where they are shown."""

from typing import Final

TARGET: Final = "The knob shall be at"
KNOB: Final = "Knob in neutral"
TARGET_NOTE: Final = "Say where the knob shall be in neutral; what brings it there is worked out."
TARGET_ENTRY: Final = "say where the knob shall be"
USE_NOW: Final = "Use the knob\u2019s place now"
FORGET: Final = "Forget"
FORGET_ENTRY: Final = "forget where the knob shall be"
MAY_CHANGE: Final = "What may change"
FREE: Final = {
    "length_free": "lever length",
    "bend_free": "lever bent",
    "raise_free": "box raised",
    "tilt_free": "box tilted",
    "move_free": "box moved",
}
HOW_FAR: Final = "How far each may go"
FEWER: Final = "Put the ranges away"
WORKING: Final = "Being worked out."
STALE: Final = "Worked out again once you let go."
BUILD: Final = "Build it so"
BUILD_ENTRY: Final = "build the lever so"
NOW, THEN = "now", "then"
SPOKEN: Final = "{what}: {now} now, {then} then"
