"""Every sentence and label of the shell, in one place; `{}` fields are filled where they are shown.

What a card says stands with the cards, what a finding says with the report.
"""

from typing import Final

PROGRAM: Final = "floorpan"
NO_DISPLAY: Final = (
    "floorpan: There is no display to open the bench on. Start it in a desktop session, or see floorpan --help for"
    " what works without one."
)
WINDOW_TITLE: Final = "{title}[*] \u2013 floorpan"
WINDOW_TITLE_LOOKING: Final = "{title}, to look only \u2013 floorpan"

# --- start screen -------------------------------------------------------------------------------------------------
TAGLINE: Final = "Lay out a console on the floor you scanned."
START_SCAN: Final = ("Start from a scan\u2026", "STL, PLY or OBJ of the bare floor")
START_OPEN: Final = ("Open a project\u2026", "A folder that ends in .floorpan")
START_SAMPLE: Final = ("Open the sample car", "An invented car with something of every verdict")
RECENT_TITLE: Final = "On the bench"
RECENT_ORDER: Final = "newest first"
NOTHING_RECENT: Final = "Nothing yet. What you open hangs here."
NEVER_CHECKED: Final = "Not checked since it was opened."
DROP_HERE: Final = "Drop a scan or a project folder here"
BEFORE_TITLE: Final = "Before you scan"
BEFORE: Final = (
    "Bare metal first, then carpet in, then seats in.",
    "Put two things of known length in the picture.",
    "Scan under the dash and down both tunnel flanks.",
    "Catch the knob in every gear, reverse too.",
    "Handbrake down and fully up. Buckles up.",
)
GEOMETRY_ONLY: Final = "Geometry only. Check in the car before cutting."
TODAY: Final = "today {time}"
DATE: Final = "{day} {month} {year}"
DAYS: Final = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS: Final = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
OPENING_TITLE: Final = "Opening {name}"

# --- starting from a scan -----------------------------------------------------------------------------------------
SCAN_DIALOG: Final = "Start from a scan"
ADD_DIALOG: Final = "Add a scan"
ADDING_SCAN: Final = "Copying {name} into the project"
ADD_ENTRY: Final = "add a scan"
PART_DIALOG: Final = "Place a mesh from a file"
PART_QUESTION: Final = "Which unit is this part in, and what does it stand for?"
PART_STANDS_FOR: Final = "Stands for"
PLACE_IT: Final = "Set it down"
READING_SCAN: Final = "Reading {name}"
READ_ANOTHER: Final = "Read another file\u2026"
USE_THOSE: Final = "Use those"
NEXT: Final = "Go on"
READ_AS: Final = "Read as"
UNIT_QUESTION: Final = "Which unit is this scan in?"
UNIT_PROPOSED: Final = "No unit is written in {name}. {why}"
UNIT_LIKELY: Final = "likely"
UNIT_SIZE: Final = "{x} \u00d7 {y} \u00d7 {z}"
TRIANGLES_READ: Final = "{n} triangles were read."
DROPPED: Final = "Left out: {told}."
DROPPED_ONE: Final = "{n} {what}"
KEEP_QUESTION: Final = "Where is the project kept?"
PROJECT_NAME: Final = "Name"
KEPT_IN: Final = "Kept in"
KEPT_AS: Final = "The folder will be {path}"
CHANGE_FOLDER: Final = "Another folder\u2026"
MAKE_PROJECT: Final = "Start the project"
MAKING_PROJECT: Final = "Starting the project"
BACK: Final = "Back"
NO_NAME: Final = "Give the project a name."
SCANS_FILTER: Final = "Scans and points ({endings});;Every file (*)"

# --- projects -----------------------------------------------------------------------------------------------------
OPEN_DIALOG: Final = "Open a project"
OPENING: Final = "Opening the project"
KEEP_DIALOG: Final = "Keep the project in"
SAMPLE_DIALOG: Final = "Where is the sample car kept?"
MAKING_SAMPLE: Final = "Making the sample car"
SAMPLE_FOLDER: Final = "sample-car"
SAVED: Final = "Saved {time}"
NOT_SAVED_SINCE: Final = "Not saved since {time}"
LOOKING_ONLY: Final = "Opened to look only"
SAVED_HINT: Final = "{title} is saved."
ASK_SAVE: Final = ("{title} was changed and is not saved.", "Save it, or leave the changes?")
SAVE: Final = "Save"
LEAVE_CHANGES: Final = "Leave the changes"
CANCEL: Final = "Cancel"
CLOSE: Final = "Close"
TAKE_OVER: Final = "Take it over"
LOOK_ONLY: Final = "Open to look only"
ON_THE_BENCH: Final = "{title} is on the bench already."
OPEN_BACKUP: Final = "Open the save before"
SHOW_FOLDER: Final = "Show the folder"
FIND_SCAN: Final = "Find it\u2026"
GO_ON_WITHOUT: Final = "Go on without it"
MISSING_REMEDY: Final = "Find it, or go on without it: every gap to it becomes unseen."
OTHER_SCAN: Final = ("{name} is not the scan that was read.", "Find the file with the very same bytes.")
NOT_READ: Final = ("{name} cannot be read ({why}).", "Look whether it is still there.")
IMPORTING: Final = "Copying the scan"
LEFT_OVER: Final = ("Work from {time} is newer than the save.", "Use it, or keep the save?")
LEFT_OVER_TITLE: Final = "Left by a power cut"
USE_WORK: Final = "Use the newer work"
KEEP_SAVE: Final = "Keep the save"
USED_WORK: Final = "take up the work that was left"
LEFT_OVER_DAMAGED: Final = "The save is opened instead."
COPY_DIALOG: Final = "Save a copy in"
COPY_NAME: Final = ("Save a copy", "Name of the copy")
COPYING: Final = "Saving a copy"
COPIED: Final = ("The copy is in {path}.", "Open it, or stay here?")
OPEN_COPY: Final = "Open the copy"
STAY: Final = "Stay here"
VERSION_NAME: Final = ("Save a version", "Name of the version")
VERSION_KEPT: Final = "Version {name} is kept."
REPLACE_IT: Final = "Replace it"
ANOTHER_NAME: Final = "Type another name"
VERSION_BACK: Final = ("Go back to a version", "Which one? Undo brings today\u2019s layout back.")
VERSION_TAKEN: Final = "go back to version {name}"
NO_VERSIONS: Final = ("No version is kept yet.", "Save one in the Project menu.")
WHERE: Final = ("The project is kept in", "{path}")

# --- bench --------------------------------------------------------------------------------------------------------
SEEN_FROM: Final = {
    "driver": "driver",
    "passenger": "passenger",
    "above": "above",
    "front": "front",
    "rear": "rear",
    "free": "free",
}
SEEN_FROM_SIDES: Final = {
    "driver": "side A",
    "passenger": "side B",
    "above": "above",
    "front": "side C",
    "rear": "side D",
    "free": "free",
}
STATION_TITLE: Final = "Station view"
STATION_LATER: Final = "The station view, a section you slide along the car, comes in a later version."
PUT_AWAY: Final = "Put away"
NO_STATES: Final = "Nothing to compare yet. Place a shifter, a seat or a cup first."
ON_THE_WAY: Final = "On the way"
ON_THE_WAY_OF: Final = "{axis} {stop}"
ONE_NOT_JUDGED: Final = "1 pair was not judged so"
NOT_JUDGED: Final = "{n} pairs were not judged so"
CELL_HINT: Final = "Click a cell: the car goes into that state and the view turns to the spot."
DOUBT_TITLE: Final = "What the give or take is made of"
DOUBT_LINE: Final = "{name}: \u00b1 {u}"
DOUBT_BOUND: Final = "{name}: up to {u}, on one side"
DOUBT_NONE: Final = "This value is counted and has none."
DOUBT_SUM: Final = "Together \u00b1 {u}: twice the root of the sum of squares, plus what lies on one side."
SCAN_GOOD: Final = "scan \u00b1 {u}"
UNIT_NAMES: Final = {"mm": "Lengths in mm", "in": "Lengths in inches"}
IN_HAND: Final = "{name}: {place}"
STOPPED: Final = "Working this out was stopped. The old numbers are marked stale."
UNDO: Final = "Undo: {words}"
REDO: Final = "Do again: {words}"
UNDO_NOTHING: Final = "Undo"
REDO_NOTHING: Final = "Do again"
TAKE_OUT: Final = "take out {name}"
ALL_CLEAR: Final = "Everything is clear."
STEP_WORDS: Final = {
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
NO_CARD: Final = "This step is not built yet."
TIME_LEFT_S: Final = "about {n} s left"
TIME_LEFT_MIN: Final = "about {n} min left"
GETTING_READY: Final = "Getting the bench ready"
AREAS: Final = {
    "strip": "Steps",
    "view": "The car",
    "spot": "Tight spot",
    "card": "Card of the step",
    "ledger": "Gaps, worst first",
    "drawer": "Drawer",
    "status": "Status line",
}

# --- papers -------------------------------------------------------------------------------------------------------
CHECKLIST_LINK: Final = "Print the scan checklist"
CHECKLIST_DIALOG: Final = "Write the scan checklist"
CHECKLIST_PAPERS: Final = {"A4": "Page on A4 (*.pdf)", "letter": "Page on letter (*.pdf)"}
CHECKLIST_NAME: Final = "{name}-scan-checklist.pdf"
CHECKLIST_FIRST_NAME: Final = "scan-checklist.pdf"
CHECKLIST_WRITING: Final = "Writing the scan checklist"
CHECKLIST_STOPPED: Final = "The scan checklist was stopped and not written."
CHECKLIST_WRITTEN: Final = "The scan checklist is in {path}."
TAPE_SHEET_DIALOG: Final = "Write the tape sheet"
TAPE_SHEET_PAPERS: Final = {"A4": "Pages on A4 (*.pdf)", "letter": "Pages on letter (*.pdf)"}
TAPE_SHEET_NAME: Final = "{name}-tape-sheet.pdf"
TAPE_SHEET_FIRST_NAME: Final = "tape-sheet.pdf"
TAPE_SHEET_WRITING: Final = "Writing the tape sheet"
TAPE_SHEET_STOPPED: Final = "The tape sheet was stopped and not written."
TAPE_SHEET_WRITTEN: Final = "The tape sheet is in {path}."
PAPER_DIALOG: Final = "Write the fit report"
PAPER_FILTER: Final = (
    "Report to print (*.pdf);;Page for a browser (*.html);;Findings for programs (*.json);;Table (*.csv)"
)
PAPER_NAME: Final = "{name}-fit-report.pdf"
PAPER_WAITS: Final = "Nothing stale is printed: waiting until every finding is fresh"
PAPER_WRITING: Final = "Writing the fit report"
PAPER_TRYING: Final = "Looking whether pictures can be drawn here"
PAPER_STOPPED: Final = "The fit report was stopped and not written."
PAPER_WRITTEN: Final = ("The fit report is in {path}.", "Print at 100 %, never \u201cfit to page\u201d.")
OPEN_FOLDER: Final = "Open the folder"
PAPER_NO_FINDINGS: Final = (
    "Findings could not be worked out, so nothing is printed.",
    "Look at what the status line says, then write the report again.",
)

# --- a thinned copy of the scan ------------------------------------------------------------------------------------
THIN_COPY_DIALOG: Final = "Write a thinned copy of the scan"
THIN_COPY_FILTER: Final = "Mesh in mm, car axes (*.ply)"
THIN_COPY_NAME: Final = "{name}-thinned.ply"
THIN_COPY_HOW: Final = (
    "How thin may the copy of \u201c{name}\u201d be?",
    "Open edges stay as they are. The scan itself is not changed, and gaps are never measured on the copy.",
)
THIN_COPY_BY_STRAY: Final = "By how far it may stray\u2026"
THIN_COPY_BY_COUNT: Final = "By number of triangles\u2026"
THIN_COPY_LINE: Final = {
    "stray": ("The most the copy may be off from the scan, anywhere", "0.5 mm"),
    "count": ("About how many triangles the copy may have", "300000"),
}
THIN_COPY_AREAS: Final = (
    "Keep the areas drawn on the scan as they are?",
    "They keep every triangle; only the rest is thinned.",
)
THIN_COPY_KEEP_AREAS: Final = "Keep them"
THIN_COPY_THIN_AREAS: Final = "Thin them too"
THIN_COPY_NO_STRAY: Final = (
    "A copy that may not stray is the scan itself.",
    "Type a length above 0, like 0.5 mm.",
)
THIN_COPY_NO_COUNT: Final = ("That is no number of triangles.", "Type a whole number, like 300000.")
THIN_COPY_ENDING: Final = ("{name} does not end in .ply.", "A thinned copy is a PLY: give it that ending.")
THIN_COPY_NOT_READY: Final = "The scan is still being made ready. Write the copy once it is."
THIN_COPY_NOT_WRITTEN: Final = ("The thinned copy was not written: {why}.", "Choose another folder or name.")
THIN_COPY_NOT_THINNED: Final = (
    "The scan could not be thinned, so no copy was written.",
    "Close what takes much memory, or crop the scan, then write it again.",
)
THIN_COPY_WRITING: Final = "Writing a thinned copy of the scan"
THIN_COPY_STOPPED: Final = "The thinned copy was stopped and not written."
THIN_COPY_WRITTEN: Final = "The thinned copy is in {path}."
THIN_COPY_TOLD: Final = (
    "{n} of {all} triangles. Off by {mean} on average, {most} or less at 99 of 100 points, {worst} at worst: "
    "{where}."
)
THIN_COPY_WHOLE: Final = "All {all} triangles: nothing could be left out."

# --- help ---------------------------------------------------------------------------------------------------------
KEYS_TITLE: Final = "Keys"
KEYS_IN_VIEW: Final = "In the picture of the car"
KEYS_IN_LISTS: Final = "In steps, words, ledger and matrix"
VIEW_KEYS: Final = (
    ("Arrows", "Move the thing in hand by 1; with nothing in hand, turn the view"),
    ("PgUp, PgDn", "Up and down; with nothing in hand, nearer and farther"),
    ("Shift, Alt", "Ten times; fine"),
    ("Ctrl+arrows", "Slide the view"),
    ("Home", "See the whole car"),
    ("Esc", "Put it back, then leave the tool"),
    ("Enter", "Set it down"),
)
LIST_KEYS: Final = (
    ("Arrows", "From one to the next"),
    ("Enter", "Take it"),
    ("Shift+Enter", "What the give or take is made of; unfold an axis"),
)
ABOUT_TITLE: Final = "About floorpan"
ABOUT: Final = (
    "floorpan {version}",
    "From a handheld scan of a cabin floor to a console that fits.",
    "Geometry check only, from a scan and from measurements you enter. Not a strength, crash, fire or approval "
    "assessment. Belts, airbags, drilling, welding and gear selection follow your local rules and licensed "
    "practice. Check in the car before cutting.",
)

# --- the unforeseen -----------------------------------------------------------------------------------------------
UNFORESEEN_TITLE: Final = "Not foreseen"
UNFORESEEN: Final = "Something went wrong that was not foreseen."
UNFORESEEN_SAVED: Final = "Your layout is saved as of now. Copy the report, then go on or close."
UNFORESEEN_NOT_SAVED: Final = "Your layout could not be saved: {why} Copy the report, then go on or close."
UNFORESEEN_NOTHING: Final = "No project is open, so nothing is lost. Copy the report, then go on or close."
COPY_REPORT: Final = "Copy the report"
GO_ON: Final = "Go on"
CLOSE_PROGRAM: Final = "Close floorpan"
