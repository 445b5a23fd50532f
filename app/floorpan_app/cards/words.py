"""Every sentence and label of the cards."""

from typing import Final

from floorpan.layout import Step

TITLES: Final[dict[Step, str]] = {
    "scan": "Scan",
    "axes": "Axes",
    "floor": "Floor",
    "driver": "Driver",
    "controls": "Controls",
    "cup": "Cup",
    "console": "Console",
    "pieces": "Pieces",
    "check": "Check",
    "report": "Report",
}
QUESTIONS: Final[dict[Step, str]] = {
    "scan": "How far can this scan be trusted to cut from?",
    "axes": "Set the scan straight, on points that are still there next year.",
    "floor": "What lies on the floor, and what is what?",
    "driver": "Tape this driver, belted in.",
    "controls": "Where does the hand have to go?",
    "cup": "What rides along, and where does it stand?",
    "console": "How much room does the console take?",
    "pieces": "What fits the printer's bed, and how does it lock?",
    "check": "What hits, what is short, what was never seen?",
    "report": "On paper, to take to the car.",
}
ACCEPT: Final = "Accept {step}"
ACCEPT_AS_IT_IS: Final = "Accept as it is\u2026"
WHY: Final = "Why? It goes into the report."
ACCEPTED: Final = "Accepted {date}"
LOOK_AGAIN: Final = "Look again: something it rests on changed"
OPEN_AGAIN: Final = "Open again"

NO_SCAN: Final = "No scan is on the bench. Start from a scan in the Project menu."
NO_AXES: Final = "Set the axes first: checks measure in car axes."
PIECES_LATER: Final = (
    "This step will cut the console into pieces that fit a printer's bed and lock into each other."
    " It is not built yet."
)
CONSOLE_LATER: Final = (
    "This is the room the console takes. The shell's own shape, with its bottom edge, comes later."
)
NOT_TOLD: Final = "cannot be told"
SIDES_OPEN: Final = "Sides are not set yet; the box follows the file's own axes."
CROP_FACES: Final = ("front", "rear", "left", "right", "down", "up")
CARPET: Final = (
    "Loose carpet takes its thickness off every gap to the floor; dash, seats and levers carry none."
)
REACH_NOTE: Final = "Reach is told with the belts tight; the worst notch in use."
GATE_NOTE: Final = "The shape is the worst in that gear. Click a gear: the lever goes there."
REPORT_NOTE: Final = (
    "{fail} fail, {unseen} unseen, {close} close. The report says so on its first page."
    " Nothing stale is printed."
)
AT_100: Final = "Print at 100 %, never \u201cfit to page\u201d."
