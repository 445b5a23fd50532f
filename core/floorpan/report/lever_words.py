"""What papers and card say of the lever a wanted knob needs; `{}` fields are filled where they are told."""

from typing import Final

LEVER: Final = "What lever does that need?"
TARGET: Final = "The knob shall be at {place} in neutral."
NO_CHANGE: Final = "The knob is where it shall be: nothing has to change."
AND_NOTHING_ELSE: Final = "{deed} and nothing else."
COMMA_AND_NOTHING_ELSE: Final = "{deed}, and nothing else."
SHORT: Final = "{short} short: {why}."
SHORT_UNSAID: Final = "{short} short."
AS_NEAR: Final = "The nearest it comes: {deed}."
AND: Final = " and "
THEN: Final = "; "

LONGER, SHORTER = "a lever {n} longer", "a lever {n} shorter"
BENT: Final = "bent {deg}\u00b0 {way}, {n} below the boot\u2019s edge"
BENT_OVER: Final = "bent {deg}\u00b0 {way}, {n} over the boot\u2019s edge"
BENT_LEVER: Final = "the lever {bent}"
MADE_STRAIGHT: Final = "a straight lever in place of the bent one"
RAISE: Final = "raise the box {n}"
TILT_BACK, TILT_FORWARD = "tilt the box {deg}\u00b0 rearward", "tilt the box {deg}\u00b0 forward"
MOVE: Final = "move the box {ways}"
REARWARD, FORWARD, RIGHT, LEFT = "{n} rearward", "{n} forward", "{n} right", "{n} left"
# The way of a bend, an eighth of a turn each, from rearward over right.
WAYS: Final = (
    "rearward",
    "rearward and right",
    "right",
    "forward and right",
    "forward",
    "forward and left",
    "left",
    "rearward and left",
)

COL_WHAT, COL_NOW, COL_THEN = "", "now", "then"
LENGTH: Final = "Lever, along the rod"
THROW: Final = "Throw each way"
CROSS: Final = "Plane to plane"
OVER_FOOT: Final = "Knob over the foot"
NEEDED: Final = "Opening needed"
CUT: Final = "Opening cut"
SPARE: Final = "To spare on its worst side"
EFFORT: Final = "Effort"
TOO_SMALL: Final = "The opening that is cut lacks {n} on its worst side."
MEETS_EDGE: Final = "The lever meets the edge of the opening that is cut: it lacks {n} on its worst side."
TIMES: Final = "\u00d7 {n}"
SIZE: Final = "{length} \u00d7 {width}"
MARGIN: Final = (
    "Opening: length by width at the console\u2019s top, with the engine\u2019s rock and {margin} ({source})."
)

REMARKS: Final = "Beside what is usual"
USUAL_BETWEEN: Final = "{about}: {value}; {least} to {most} is usual ({source})."
USUAL_LEAST: Final = "{about}: {value}; {least} at least ({source})."
USUAL_MOST: Final = "{about}: {value}; {most} at most ({source})."

CAUTION_LEAD: Final = "Lever and linkage"
CAUTION: Final = (
    "Where the rules of the place say so, bending or heating a lever, welding it and changing a selector linkage "
    "are for a licensed practice: ask before you start. The lever is bent out of the car, gently, over a long piece "
    "of it. Strength was not worked out here. Try every gear fully home afterwards."
)
