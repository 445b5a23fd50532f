"""What the papers and the Controls card say of the opening a lever needs, and of its boot."""

from typing import Final

TITLE: Final = "Opening for {name}, 1 : 1"
NEEDED: Final = (
    "The lever in every gear and on every way between them needs {length} by {width} at {height} over the foot: "
    "{margin} round it ({source}){rock}."
)
ROCK: Final = " and {rock} of engine rock"
DRAWN: Final = (
    "Front is up; the cross is the centre of the foot; the dashed line is the opening as entered. Print it without "
    "scaling and measure the bar before you cut."
)
TOO_LARGE: Final = "Its outline is too large for this paper."
BAR: Final = "{length}"
BOOT: Final = (
    "Boot: {slack} of its cloth to spare in {gear}, where it has least; straight it needs {needs}, "
    "ring {ring} across."
)
RING_ROOM: Final = "{room} of lever between boot and knob, lift ring up."
RING_BUNCHED: Final = "The lift ring has {room} too little between boot and knob: the boot bunches under it."
SAYS: Final = "Outline of the opening, {length} by {width}"
PERCENT: Final = "{n} %"
