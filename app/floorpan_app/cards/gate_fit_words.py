"""What the fit of a gate to taped knobs says."""

from typing import Final

FIT: Final = "Fit the gate to these"
KEEP_PIVOT: Final = "The pivot was measured: keep it"
ENTRY: Final = "fit the gate of {name} to its taped knobs"
FITS: Final = "The gate fits the taped knobs to {rms}; {gear} is off most, by {most}."
ODD: Final = "{gear} does not go with the rest: it is {off} off the gate that fits the others. Tape it again."
REST: Final = "Not taped, so they follow: {gears}."
ONE: Final = "{gear}, give or take {u}"
WEAK: Final = (
    "Pivot and lever are good to {u} only: knobs that are taped to a millimetre tell no more. "
    "Measure the pivot over the foot and keep it."
)
POINTS: Final = "Off the fitted gate: {points}."
POINT: Final = "{gear} {off}"
JOIN: Final = ", "
