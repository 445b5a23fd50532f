"""Every requirement a finding is judged against, with where it comes from."""

from dataclasses import dataclass
from typing import Literal

from floorpan.errors import NoSuchThing

Sense = Literal["at_least", "at_most", "between"]

COMMON = "common practice, no source"
DEFAULT = "default, edit me"


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """A wanted value.

    value  : the bound, or the lower bound of `between`
    upper  : the upper bound of `between`, else None
    unit   : mm, deg, percent or g
    source : a published source, COMMON or DEFAULT
    """

    id: str
    value: float
    sense: Sense
    unit: str
    source: str
    note: str = ""
    upper: float | None = None


def _gap(id: str, mm: float, note: str, source: str = COMMON) -> Limit:
    return Limit(id=id, value=mm, sense="at_least", unit="mm", source=source, note=note)


_ALL = (
    _gap("hand-scan", 15.0, "knuckles to anything hard; 25 is good, 40 at speed with gloves"),
    _gap("hand-seat", 15.0, "knuckles to a bolster"),
    _gap("hand-console", 15.0, "knuckles to the console shell or a cup holder"),
    _gap("hand-vessel", 30.0, "cup rim to the knuckle sweep, tallest vessel in"),
    _gap("lever-scan", 8.0, "lever above its boot to the car"),
    _gap("lever-seat", 10.0, "lever to a seat"),
    _gap("lever-vessel", 10.0, "lever to a vessel or its holder", DEFAULT),
    _gap("lever-opening", 8.0, "opening beyond the lever's sweep, box on the body"),
    _gap("lever-opening-gearbox", 12.0, "opening beyond the lever's sweep, lever on the gearbox; up to 20"),
    _gap("forearm-vessel", 10.0, "the shifting arm to a vessel, tallest in, in every gear", DEFAULT),
    _gap("forearm-seat", 0.0, "the shifting forearm to a bolster, in every gear", DEFAULT),
    _gap(
        "forearm-console",
        0.0,
        "the shifting arm to the console shell or a cup holder, in every gear",
        DEFAULT,
    ),
    _gap("forearm-scan", 10.0, "the shifting arm to anything hard, in every gear", DEFAULT),
    _gap("hand-handbrake", 15.0, "knuckles on the knob to the handbrake, down, half way and up"),
    _gap("handbrake-scan", 30.0, "handbrake grip to what lies under or over it: fingers round it"),
    _gap("handbrake-console", 35.0, "handbrake grip to the console wall or a cup holder; 40 is good"),
    _gap("handbrake-vessel", 15.0, "knuckles on the handbrake to a vessel"),
    _gap("handbrake-seat", 15.0, "knuckles on the handbrake to a seat"),
    _gap("handbrake-shifter", 15.0, "knuckles on the handbrake to knob and lever, in every gear"),
    _gap("press-scan", 0.0, "the 40 by 75 mm of the hand that presses a buckle, to the car"),
    _gap("press-console", 0.0, "the 40 by 75 mm of the hand that presses a buckle, to the console shell"),
    _gap("press-vessel", 0.0, "the 40 by 75 mm of the hand that presses a buckle, to a vessel"),
    _gap("buckle-console", 5.0, "a buckle and its stalk to the console shell: nothing bears on it", DEFAULT),
    _gap("strap-console", 5.0, "a belt's strap to the console shell: over no edge", DEFAULT),
    _gap(
        "armrest-forearm",
        0.0,
        "the shifting forearm to the armrest's pad, in every gear but neutral",
        DEFAULT,
    ),
    _gap("hand-armrest", 15.0, "knuckles on the knob to the armrest's front, lid shut and open"),
    _gap("handbrake-armrest", 15.0, "knuckles on the handbrake to the armrest"),
    _gap("armrest-seat", 10.0, "the armrest's pad to a seat, shut, open and between", DEFAULT),
    _gap("armrest-vessel", 5.0, "the armrest's pad to a vessel, shut, open and between", DEFAULT),
    _gap("keep-out", 0.0, "nothing in a keep-out; no screw through a no-drill disc", DEFAULT),
    _gap("part-moves", 5.0, "a part that moves, to seats, vessels and the lever, also on its way", DEFAULT),
    _gap("hand-wheel", 15.0, "knuckles on the knob to wheel rim and stalks; 60 to 150 from knob to rim"),
    _gap("hand-thigh", 15.0, "knuckles on the knob to a thigh or knee, in every gear", DEFAULT),
    _gap(
        "thigh-console", 25.0, "a thigh or knee to the console shell or a cup holder, or it is padded there"
    ),
    _gap("thigh-shifter", 25.0, "a thigh or knee to the shifter box, or the box is padded there"),
    _gap("flap-hand", 15.0, "knuckles on the knob to a flap, closed, half open, fully open and between"),
    _gap("flap-lever", 10.0, "a lever above its boot to a flap", DEFAULT),
    _gap("flap-vessel", 10.0, "a vessel to a flap", DEFAULT),
    _gap("flap-thigh", 10.0, "a thigh or knee to a flap that opens", DEFAULT),
    _gap("flap-console", 3.0, "the console shell to a flap that opens and does not lie on it", DEFAULT),
    _gap(
        "hand-dash",
        15.0,
        "knuckles on the knob to the dash's lower edge; 25 is good, 40 at speed with gloves",
    ),
    _gap("lever-dash", 8.0, "lever above its boot to the dash's lower edge"),
    _gap("vessel-dash", 10.0, "a vessel to the dash's lower edge", DEFAULT),
    _gap("thigh-dash", 25.0, "a thigh or knee to the dash's lower edge, or the edge is padded there"),
    _gap(
        "door-seat",
        10.0,
        "a door with its pocket to a seat and its bolsters, shut, open and between",
        DEFAULT,
    ),
    _gap("door-handbrake", 10.0, "a door to a handbrake at the sill", DEFAULT),
    _gap("door-buckle", 5.0, "a door to a belt buckle", DEFAULT),
    _gap("door-console", 10.0, "a door to the console shell", DEFAULT),
    _gap("seat-handbrake", 10.0, "a backrest that reclines, to the handbrake", DEFAULT),
    _gap("seat-scan", 10.0, "a seat that slides, to the car", DEFAULT),
    _gap("seat-console", 20.0, "a seat that slides and bulges, to the console or a cup holder"),
    _gap("seat-lever", 10.0, "a seat that slides, to the shifter box", DEFAULT),
    _gap("seat-vessel", 10.0, "a seat that slides, to a vessel", DEFAULT),
    _gap("seat-seat", 20.0, "the two seats past each other", DEFAULT),
    _gap("vessel-scan", 10.0, "a vessel to the car", DEFAULT),
    _gap("lift-out", 5.0, "a vessel on its way out of its well to what it passes; its own well apart"),
    _gap(
        "lift-out-hand",
        20.0,
        "fingers round a vessel on its way out; with their own 25 it is 45 each side of what is held",
        "MIL-STD-1472D, Fig. 38",
    ),
    _gap(
        "drip-path",
        20.0,
        "seen from above, what drips off a vessel on its way out to switches, buckles and the shifter's opening: "
        "none of them may be wetted, and drops splash",
    ),
    Limit(
        id="drip-lands",
        value=0.0,
        sense="at_most",
        unit="percent",
        source=COMMON,
        note="of what drips off a vessel, what lands on a switch, a buckle or in the shifter's opening; a floor may",
    ),
    _gap("console-scan", 5.0, "console shell to what stands beside it", DEFAULT),
    Limit(id="reach", value=0.0, sense="at_least", unit="mm", source=COMMON, note="stretch to spare"),
    Limit(
        id="reach-for",
        value=0.0,
        sense="at_least",
        unit="mm",
        source=COMMON,
        note="stretch to spare to a switch, a buckle, the handbrake down and up, or a cup in its well, belts tight",
    ),
    Limit(
        id="armrest-elbow",
        value=-10.0,
        upper=30.0,
        sense="between",
        unit="mm",
        source=DEFAULT,
        note="how far the hanging elbow is over the armrest's pad, neutral, belts tight; negative sinks in",
    ),
    Limit(
        id="elbow",
        value=75.0,
        upper=160.0,
        sense="between",
        unit="deg",
        source=COMMON,
        note="elbow angle on the knob, belts tight",
    ),
    Limit(
        id="boot-slack",
        value=20.0,
        sense="at_least",
        unit="percent",
        source=COMMON,
        note="cloth of the boot over the straight way from its ring to its top, in the furthest gear",
    ),
    Limit(
        id="well-side",
        value=2.0,
        upper=4.0,
        sense="between",
        unit="mm",
        source=COMMON,
        note="well diameter over vessel diameter, stiff well without fingers",
    ),
    Limit(
        id="well-side-fingers",
        value=0.0,
        upper=8.0,
        sense="between",
        unit="mm",
        source=COMMON,
        note="well diameter over vessel diameter with fingers or a rubber ring; up to twice their reach unless set",
    ),
    Limit(
        id="well-depth",
        value=70.0,
        sense="at_least",
        unit="mm",
        source=COMMON,
        note="how deep a vessel sits, spirited driving",
    ),
    Limit(
        id="well-grip",
        value=20.0,
        sense="at_least",
        unit="mm",
        source=COMMON,
        note="how far a vessel stands out over the highest edge round it, for fingertips to take hold of",
    ),
    Limit(
        id="cup-corner",
        value=0.8,
        sense="at_least",
        unit="g",
        source=COMMON,
        note="corner a vessel is held to, with half its weight off over a bump; 0.4 is comfort, 1.0 a sports tyre",
    ),
    Limit(
        id="cup-brake",
        value=0.8,
        sense="at_least",
        unit="g",
        source=COMMON,
        note="braking and pulling away a vessel is held to, with half its weight off over a bump",
    ),
    Limit(
        id="cup-spill",
        value=0.8,
        sense="at_least",
        unit="g",
        source=COMMON,
        note="steady corner an open cup keeps its drink in; 0.4 is what most drivers use",
    ),
    Limit(
        id="console-seen",
        value=98.0,
        sense="at_least",
        unit="percent",
        source=DEFAULT,
        note="share of the floor under the console that the cropped scan saw",
    ),
    Limit(
        id="stands",
        value=3.0,
        sense="at_most",
        unit="mm",
        source=DEFAULT,
        note="how far a thing has come off what it stands on",
    ),
)

LIMITS: dict[str, Limit] = {limit.id: limit for limit in _ALL}


def limit(id: str) -> Limit:
    """The shipped limit of that id; raises NoSuchThing."""
    try:
        return LIMITS[id]
    except KeyError:
        raise NoSuchThing(
            "no-such-limit", f"There is no limit {id}.", "Look at the list of limits."
        ) from None
