"""Every sentence and label of the core's papers, in one place. `{}` fields are filled by sentences and content."""

from typing import Final

from floorpan.checks.finding import Verdict

VERDICTS: Final[dict[Verdict, str]] = {
    "hits": "hits",
    "short": "short",
    "unseen": "unseen",
    "close": "close",
    "pending": "pending",
    "clear": "clear",
}
MEANINGS: Final[dict[Verdict, str]] = {
    "hits": "touching or overlapping",
    "short": "apart, but less than wanted by more than the give or take",
    "unseen": "the scan does not show it: unknown, not clear",
    "close": "within the give or take of what is wanted",
    "pending": "not worked out yet",
    "clear": "what is wanted and more",
}

# --- gaps -------------------------------------------------------------------------------------------------------
# first: the thing, at the head of a sentence; second: what it meets; where, also: the state; u: give or take.
GAP: Final[dict[str, str]] = {
    "hits": "{first} {hit} {second}{where} by {value} (give or take {u}){also}.",
    "touch": "{first} {touch} {second}{where} (give or take {u}){also}.",
    "short": "{first} {come} within {value} of {second}{where}: {missing} short of {wanted}, give or take {u}{also}.",
    "maybe": "{first} {come} within {value} of {second}{where}, give or take {u}: they may touch{also}.",
    "may touch": "{first} to {second}{where}: {value}, give or take {u}: they may touch{also}.",
    "close": "{first} to {second}{where}: {value}, {wanted} wanted, give or take {u}, too close to call{also}.",
    "clear": "{first} {clear} {second} by {value}{where} (give or take {u}){also}.",
    "unseen": "{first} to {second}{where}: not seen{also}.",
    "pending": "{first} to {second}{where}: being worked out{also}.",
    "stale": "{first} to {second}{where}: was {value} before the last change{also}.",
}
# While something is dragged most gaps are not measured anew: so much is proven of them.
PROVEN: Final[dict[str, str]] = {
    "": "{value}",
    "at least": "\u2265\u2009{value}",
    "at most": "\u2264\u2009{value}",
}
PROVEN_SAID: Final[dict[str, str]] = {
    "": "{value}",
    "at least": "no less than {value}",
    "at most": "no more than {value}",
}
VERBS: Final[dict[str, tuple[str, str]]] = {
    "hit": ("hits", "hit"),
    "touch": ("touches", "touch"),
    "come": ("comes", "come"),
    "clear": ("clears", "clear"),
}
# --- everything else: a lead, then how it compares ---------------------------------------------------------------
REACH: Final[dict[str, str]] = {
    "clear": "{grip} is reached with {value} to spare{trust}{also}.",
    "close": "{grip} is at the end of the reach: {value} to spare, {trust_bare}too close to call{also}.",
    "close-past": "{grip} is at the end of the reach: {value} past it, {trust_bare}too close to call{also}.",
    "short": "{grip} is {value} too far{trust}{also}.",
    "short-spare": "{grip} is reached with {value} to spare: {missing} short of {wanted}{trust}{also}.",
    "unseen": "{grip}: the reach is not known{also}.",
    "pending": "{grip}: the reach is being worked out{also}.",
    "stale": "{grip}: {value} to spare before the last change{also}.",
}
LEADS: Final[dict[str, str]] = {
    "elbow": "{grip}: the elbow is at {value}",
    "armrest-elbow": "The elbow hangs {value} over {second}",
    "boot-slack": "The boot has {value} to spare",
    "well-side": "{first} has {value} to spare across {second}",
    "well-depth": "{first} sits {value} deep in {second}",
    "well-grip": "{first} stands {value} out over {second}",
    "well-grip-sunk": "{first} ends {value} below the edge round {second}",
    "cup-corner": "{first} holds to {value} in a corner",
    "cup-brake": "{first} holds to {value} under braking",
    "cup-spill": "{first} spills above {value} in a corner",
    "drip-lands": "{value} of what drips off {inside} falls where it must not",
    "console-seen": "{value} of the floor under {inside} was scanned",
    "stands": "{first} stands {value} off what it was set down on",
    "": "{first}{to_second}: {check} {value}",
}
# The same where nothing harder was asked about, so that the value is no measure of it.
LEADS_UP_TO: Final[dict[str, str]] = {
    "cup-corner": "{first} stays put in a corner of up to {least}",
    "cup-brake": "{first} stays put under braking of up to {least}",
    "cup-spill": "{first} does not spill in a corner of up to {least}",
}
SUBJECTS: Final[dict[str, str]] = {
    "elbow": "{grip}: the elbow angle",
    "armrest-elbow": "The elbow over {second}",
    "boot-slack": "The boot\u2019s slack",
    "well-side": "{first} across {second}",
    "well-depth": "{first} in {second}: its depth",
    "well-grip": "{first} over {second}",
    "cup-corner": "{first} in a corner",
    "cup-brake": "{first} under braking",
    "cup-spill": "{first}, its spill in a corner",
    "drip-lands": "What drips off {inside}",
    "console-seen": "The floor under {inside}",
    "stands": "{first} on what it was set down on",
    "": "{first}{to_second}: {check}",
}
TAILS: Final[dict[str, str]] = {
    "clear": "{lead}{where}, {wanted} wanted{trust}{also}.",
    "close": "{lead}{where}, {wanted} wanted, {trust_bare}too close to call{also}.",
    "under": "{lead}{where}: {missing} short of {bound}{trust}{also}.",
    "over": "{lead}{where}: {missing} over {bound}{trust}{also}.",
    "unseen": "{subject}{where}: not seen{also}.",
    "pending": "{subject}{where}: being worked out{also}.",
    "stale": "{lead}{where} before the last change{also}.",
}
DRIPS: Final[dict[str, str]] = {
    "clear": "What drips off {inside} falls {value} beside {second}{trust}{also}.",
    "close": "What drips off {inside} falls {value} beside {second}, {wanted} wanted, {trust_bare}"
    "too close to call{also}.",
    "short": "What drips off {inside} falls {value} beside {second}: {missing} short of {wanted}{trust}{also}.",
    "on": "What drips off {inside} falls on {second}, {value} past its edge{trust}{also}.",
    "unseen": "What drips off {inside}, to {second}: not seen{also}.",
    "pending": "What drips off {inside}, to {second}: being worked out{also}.",
    "stale": "What drips off {inside} fell {value} beside {second} before the last change{also}.",
}
TOO_WIDE: Final = "{first} does not go into {second}: it is {value} too wide{trust}{also}."
TOO_WIDE_TOUCH: Final = "{first} does not go into {second} freely: it touches all round{trust}{also}."
TRUST: Final = " (give or take {u})"
TRUST_BARE: Final = "give or take {u}, "
TO_SECOND: Final = " to {second}"
NOTHING_NAMED: Final = "its surroundings"
GRIP_UNNAMED: Final = "The grip"

# --- short forms ------------------------------------------------------------------------------------------------
LONE_TITLE: Final = "{first}, {check}"
FOR_WHOM: Final = "for {name}"
PAIR: Final = "{first} \u2013 {second}"
# Checks whose first subject is a room that others are to stay out of.
ROOMS: Final = ("keep-out",)
REACH_TITLE: Final = "Reach"
TITLES: Final[dict[str, str]] = {
    "reach": "Reach",
    "reach-for": "Reach to {second}",
    "elbow": "Elbow",
    "armrest-elbow": "Elbow over {second}",
    "boot-slack": "Boot, slack",
    "well-side": "{first}, room across",
    "well-depth": "{first}, depth in the well",
    "well-grip": "{first}, out of the well",
    "cup-corner": "{first}, held in a corner",
    "cup-brake": "{first}, held under braking",
    "cup-spill": "{first}, spill",
    "drip-path": "{first}, drips \u2013 {second}",
    "drip-lands": "{first}, where drips fall",
    "console-seen": "Floor scanned under {inside}",
    "stands": "{first}, standing",
    "lever-opening": "{first} \u2013 opening",
}
WANTED: Final[dict[str, str]] = {
    "at_least": "{low}",
    "at_most": "{low} at most",
    "between": "{low} to {high}",
}
SECOND_LINE: Final = "wanted {wanted}, {source}"
SECOND_LINES: Final[dict[str, str]] = {
    "reach": "wanted {wanted} to spare, {source}",
    "reach-for": "wanted {wanted} to spare, {source}",
}
# What a check says beside a finding in a word of its own.
NOTES: Final[dict[str, str]] = {
    "nothing": "",
    "arm length": "The arm is straight.",
    "elbow joint": "The elbow is at the end of its joint.",
    "shoulder ahead": "The upper arm would have to rise further ahead than a shoulder lets it.",
    "shoulder back": "The upper arm would have to go further back than a shoulder lets it.",
    "shoulder out": "The upper arm would have to rise further aside than a shoulder lets it.",
    "shoulder across": "The upper arm would have to cross the chest further than a shoulder lets it.",
    "upper arm turned in": "The upper arm is turned in as far as it goes.",
    "upper arm turned out": "The upper arm is turned out as far as it goes.",
    "palm turned down": "The palm is turned down as far as it goes.",
    "palm turned up": "The palm is turned up as far as it goes.",
    "wrist bent down": "The wrist is bent down as far as it goes.",
    "wrist bent back": "The wrist is bent back as far as it goes.",
    "wrist towards the thumb": "The wrist is bent towards the thumb as far as it goes.",
    "wrist towards the little finger": "The wrist is bent towards the little finger as far as it goes.",
    "elbow too straight": "Straighter than this driver wants.",
    "elbow too bent": "More bent than this driver wants.",
}
GIVE_OR_TAKE: Final = "\u00b1 {u}"
TOUCH: Final = "touch"
WORST_OF: Final = "Worst of {n} states."

# --- names ------------------------------------------------------------------------------------------------------
PARTS: Final[dict[str, tuple[str, bool]]] = {
    "hand": ("knuckles", True),
    "hands": ("hands", True),
    "arm": ("arm", False),
    "forearm": ("forearm", False),
    "upper arm": ("upper arm", False),
    "elbow": ("elbow", False),
    "knee": ("knee", False),
    "strap": ("strap", False),
    "thigh left": ("left thigh", False),
    "thigh right": ("right thigh", False),
    "thigh": ("thigh", False),
    "head": ("head", False),
    "box": ("shifter box", False),
    "boot": ("boot", False),
    "back": ("backrest", False),
    "bolster left": ("left bolster", False),
    "bolster right": ("right bolster", False),
}
THE: Final = "the {name}"
PART_OF: Final = "{part} of the {name}"
OWN_PART: Final = "{name} {part}"
HAND_ON: Final = "knuckles on the {name}"
WHOSE: Final = "{name}\u2019s {part}"
OPENING: Final = "the edge of its opening"
SCAN: Final = "scan"
SCANNED: Final = "scanned {name}"

# --- states -----------------------------------------------------------------------------------------------------
GEARS: Final[dict[str, str]] = {
    "N": "neutral",
    "R": "reverse",
    "1": "1st",
    "2": "2nd",
    "3": "3rd",
    "P": "park",
    "D": "drive",
    "S": "sport",
    "M": "manual",
    "L": "low",
}
GEAR_NTH: Final = "{n}th"
IN_GEAR: Final = "in {gear}"
BETWEEN_GEARS: Final = "between {a} and {b}"
BELTS: Final = "belts {stop}"
SEAT: Final = "seat"
SEAT_BACK: Final = "{name}full back"
SEAT_FORWARD: Final = "{name}full forward"
SEAT_NOTCH: Final = "{name}in notch {stop}"
SEAT_TRAVEL: Final = "{name}anywhere on its rails"
SEAT_BETWEEN: Final = "{name}between notches {a} and {b}"
HANDBRAKE: Final[dict[str, str]] = {
    "down": "handbrake down",
    "half": "handbrake half up",
    "up": "handbrake up",
}
HANDBRAKE_BETWEEN: Final = "handbrake on its way from {a} to {b}"
LID: Final[dict[str, str]] = {
    "shut": "lid shut",
    "open": "lid open",
    "shut-open": "lid on its way",
}
RECLINE: Final[dict[str, str]] = {
    "upright": "upright",
    "driven": "as driven",
    "laid back": "laid back",
}
RECLINE_BETWEEN: Final = "{name}between {a} and {b}"
OPENED: Final[dict[str, dict[str, str]]] = {
    "flap": {
        "closed": "{name}closed",
        "half": "{name}half open",
        "open": "{name}open",
        "closed-half": "{name}up to half open",
        "half-open": "{name}from half open on",
    },
    "travel": {
        "home": "{name}where it stands",
        "far": "{name}at its other stop",
        "home-far": "{name}on its way",
    },
    "door": {
        "shut": "{name}shut",
        "half": "{name}half open",
        "open": "{name}open",
        "shut-half": "{name}up to half open",
        "half-open": "{name}from half open on",
    },
}
VESSEL_PLACE: Final[dict[str, str]] = {
    "in": "{name} in its well",
    "lifting": "{name} on its way out",
    "lifting over": "{name} on its way out to the passenger",
    "out": "{name} out",
    "in-out": "{name} on its way out",
}
# Where a state is asked for rather than told, a vessel in its place is worth a word.
ONLY_PLACE: Final[dict[str, str]] = {
    "in": "{name} in",
    "lifting": "{name} on its way out",
    "out": "{name} out",
}
# Where the sentence is about the vessel itself.
ITS_PLACE: Final[dict[str, str]] = {
    "lifting": "on its way out",
    "lifting over": "on its way out to the passenger",
}
OTHER_STATE: Final = "{axis} {stop}"
AXIS_TITLES: Final[dict[str, str]] = {
    "gear": "Gear",
    "belts": "Belts",
    "notch": "Seat notch",
    "lever": "Handbrake",
    "lid": "Armrest lid",
    "recline": "Backrest",
    "flap": "Flap",
    "door": "Door",
    "place": "{name}",
    "travel": "{name}",
}
AXIS_OF: Final = "{axis}, {name}"
NOT_JUDGED: Final = "not judged"
STOP_TITLES: Final[dict[str, str]] = {
    "lifting": "out\u2026",
    "lifting over": "over\u2026",
    "far": "other stop",
}

# --- places -----------------------------------------------------------------------------------------------------
REAR: Final = "{n} rear"
FRONT: Final = "{n} front"
DRIVER_SIDE: Final = "{n} driver side"
PASSENGER_SIDE: Final = "{n} passenger side"
ON_CENTRE: Final = "on the centre plane"
UP: Final = "{n} up"
DOWN: Final = "{n} down"

# --- cures ------------------------------------------------------------------------------------------------------
CURE: Final = "{thing} {moves} would clear it."
CURE_PART: Final = "{length} {way}"
CURE_LAST: Final = "{first} and {last}"
# (axis, with it), and across the car (to the passenger).
CURE_WAYS: Final[dict[tuple[int, bool], str]] = {
    (0, True): "rearward",
    (0, False): "forward",
    (2, True): "up",
    (2, False): "down",
}
CURE_ASIDE: Final[dict[bool, str]] = {True: "to the passenger side", False: "to the driver side"}

# --- counts and rows --------------------------------------------------------------------------------------------
NOTHING_YET: Final = "Nothing to compare yet."
ONE_MORE_STATE: Final = "and 1 more state"
MORE_STATES: Final = "and {n} more states"
ONE_MORE_PAIR: Final = "1 more pair is listed under \u201cAll findings, worst first\u201d."
MORE_PAIRS: Final = "{n} more pairs are listed under \u201cAll findings, worst first\u201d."
DASH: Final = "\u2013"

# --- drawings ---------------------------------------------------------------------------------------------------
FRONT_EDGE: Final = "front"
REAR_EDGE: Final = "rear"
DRIVER_EDGE: Final = "driver side"
PASSENGER_EDGE: Final = "passenger side"
VIEW_TITLES: Final[dict[str, str]] = {
    "driver": "Seen from the driver\u2019s side",
    "above": "Seen from above",
    "rear": "Seen from the rear, looking forward",
    "free": "Seen freely",
}
SECTION_TITLE: Final = "Station {station}, looking forward"
SCALE_BAR: Final = "bar {bar}, about 1 : {one_to}"
SHOWN_GAPS: Final = "Gaps shown: {pairs}"
PROBE_HERE: Final = "probe here"

# --- progress ---------------------------------------------------------------------------------------------------
DRAWING: Final = "Drawing the car, {view}"
GATHERING: Final = "Looking at the scans"
LEFT_OUT: Final = "{n} {what} left out"
LAYING_OUT: Final = "Laying out the pages"
WRITING: Final = "Writing the file"

# --- faults -----------------------------------------------------------------------------------------------------
STALE_FINDINGS: Final = (
    "{n} of these numbers are from before the last change.",
    "Let Check finish, then write the papers again.",
)
UNKNOWN_SUFFIX: Final = (
    "A report cannot be written as \u201c{suffix}\u201d.",
    "End the file name in .pdf, .html, .json or .csv.",
)
NOT_WRITTEN: Final = (
    "The report was not written: {why}.",
    "Choose another folder, or free some room, then write it again.",
)
NOT_A_PICTURE: Final = (
    "The picture \u201c{title}\u201d cannot be read.",
    "Write the report without pictures, or take the picture again.",
)
