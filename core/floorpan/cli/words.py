"""Every sentence the headless front says."""

from typing import Final

PROGRAM: Final = "floorpan"

HELP: Final = """\
floorpan: from a scan of a cabin floor to a console that fits.

  floorpan                            open the bench, where its windows are installed
  floorpan sample DIR                 write the sample project (an invented car) into DIR
  floorpan scan FILE [--unit mm]      what is in a scan: size, likely unit, islands, holes
  floorpan new DIR FILE --unit mm     start a project in DIR from a scan
  floorpan check DIR [--allow close]  judge every clearance and reach of a project
  floorpan report DIR -o FILE.pdf     write the fit report; also .html, .json and .csv

floorpan COMMAND --help tells more about one of them. --version tells the version.
Every command takes --json, for one JSON document in place of text, and -v, for progress
on a terminal.

Ends with 0 when done as asked; 1 when check found something that is not clear;
2 when it could not be done, and one line says why and what to do; 130 when stopped.
"""

COMMANDS: Final[dict[str, str]] = {
    "sample": """\
floorpan sample DIR [--json] [-v]

Writes the sample project into DIR: an invented car, its simulated scan, a seat, a shifter,
a cup holder and a console. DIR must be empty or not there yet.
""",
    "scan": """\
floorpan scan FILE [--unit UNIT] [--json] [-v]

Tells what is in a scan (STL, PLY or OBJ): triangles, size, islands, holes, and what was
left out in reading it. Such a file carries no unit; a likely one is proposed from the size.

  --unit UNIT   read it as mm, cm, m, in or ft
""",
    "new": """\
floorpan new DIR FILE --unit UNIT [--json] [-v]

Starts a project in DIR, which must be empty or not there yet, and copies the scan FILE
into it. DIR is best called NAME.floorpan.

  --unit UNIT   what the scan's numbers mean: mm, cm, m, in or ft
""",
    "check": """\
floorpan check DIR [--allow close] [--json] [-v]

Judges every clearance and reach of the project in DIR, worst first, one line each. Ends
with 1 when something is not clear.

  --allow close   let pass what is too close to call
""",
    "report": """\
floorpan report DIR -o FILE [--json] [-v]

Judges the project in DIR afresh and writes its fit report. The ending of FILE says as
what: .pdf, .html, .json or .csv.

  -o FILE, --output FILE   where to write it
""",
}

SEE_HELP: Final = "See floorpan --help."
SEE_COMMAND_HELP: Final = "See floorpan {command} --help."
NO_COMMAND: Final = "No command was given."
UNKNOWN_COMMAND: Final = "\u201c{word}\u201d is no command."
UNKNOWN_WORD: Final = "floorpan takes no {word}."
UNKNOWN_OPTION: Final = "floorpan {command} takes no {word}."
TOO_FEW: Final = "floorpan {command} needs {missing}."
TOO_MANY: Final = "floorpan {command} takes {places}; \u201c{word}\u201d is one too many."
NO_VALUE: Final = "{option} needs a value."
WRONG_VALUE: Final = "{option} takes {words}, not \u201c{word}\u201d."
UNREADABLE: Final = "These arguments make no sense ({why})."

STOPPED: Final = "Stopped. Nothing more was written."
UNFORESEEN: Final = (
    "Something went wrong that was not foreseen ({why}).",
    "Run it again with -v to see where.",
)
REFUSED: Final = ("The system refused ({why}).", "Look at the disk and at who may write where.")
PROGRESS: Final = "{doing} {share}"

SAMPLE_WRITTEN: Final = "The sample project is in {folder}."
PROJECT_MADE: Final = "{folder} is a project now, with {file} read as {unit}."
REPORT_WRITTEN: Final = "The fit report is in {file}."
UNIT_UNLIKELY: Final = "Look at the unit: as {unit} its longest side is {size} mm; {proposed} is likelier."
UNIT_NO_FLOOR: Final = (
    "Look at the unit: as {unit} its longest side is {size} mm, and in no unit is it the size of a floor."
)
REPORT_SUFFIX: Final = (
    "{file} does not say what to write.",
    "End its name in .pdf, .html, .json or .csv.",
)
FINDING: Final = "{verdict:<7} {sentence}"
WANTED: Final = " {wanted} wanted."
IS_WANTED: Final = " wanted"
"""In a sentence that says itself what is wanted."""
UNIT_NEEDED: Final = ("No unit is written in {file}. {why}", "Say it with --unit {unit}, if that is right.")
"""Filled with the proposal's own sentence."""

SCAN_COUNTS: Final = "  {triangles} triangles, {points} points"
SCAN_SIZE: Final = "  {x} \u00d7 {y} \u00d7 {z} mm, read as {unit}"
SCAN_PROPOSED: Final = "  No unit is written in it; {unit} is proposed. {why}"
SCAN_ISLANDS: Final = "  islands: {n}"
SCAN_HOLES: Final = "  holes: {n}, the longest {longest} mm"
SCAN_NOISE: Final = "  roughness: {noise} mm"
SCAN_DROPPED: Final = "  left out: {what}"
SCAN_NOTE: Final = "  {note}"
