"""The cautions of the trade in our own words. They defer to the law and the licensed trade of the place."""

from typing import Final

FIRST: Final = (
    "Geometry check only, from a scan good to {u} {unit} and from measurements the user entered. It is not an "
    "assessment of strength, crash, fire or approval. Check it in the car before cutting."
)
FIRST_NO_SCAN: Final = (
    "Geometry check only, without a scan, from measurements the user entered. It is not an assessment of strength, "
    "crash, fire or approval. Check it in the car before cutting."
)

# key: (title, text)
CAUTIONS: Final[dict[str, tuple[str, str]]] = {
    "unknown": (
        "Not scanned means unknown",
        "What the scan does not show is listed as unseen. Nothing is known about it: measure there, or "
        "scan again, before you rely on the space.",
    ),
    "restraints": (
        "Belts, buckles, seats",
        "Seats, belts, buckles and their mounting points carry nothing else: fix neither console nor "
        "shifter to them, and do not move or cover a buckle. No strap may run over an edge. After any "
        "change to a seat, have seat and belts checked as the rules of the place ask.",
    ),
    "airbags": (
        "Airbags and control units",
        "Under a console there may be a crash sensor or an airbag unit whose place and direction matter. "
        "Disconnect the battery and wait as the car\u2019s maker says before you work near it. Do not "
        "drill beside it or re-bracket it. Keep the space free that side and knee airbags open into.",
    ),
    "drilling": (
        "Drilling and welding",
        "Look from below first: brake and fuel pipes, looms, the tank, the battery cable. Use a depth "
        "stop. Paint and seal every hole; a hole that reaches the gearbox keeps its sealing plate, so "
        "that no exhaust gas comes in. Welding on the body is for who is qualified for it.",
    ),
    "gears": (
        "Every gear, every time",
        "Try every gear fully home, with the boot fitted, cold and hot, and with the engine rocking on "
        "its mounts. A boot or an edge that pulls the lever out of gear is a danger on the road. The lock "
        "against reverse still has to work, and so has the lock of an automatic selector.",
    ),
    "automatic": (
        "An automatic\u2019s selector",
        "The engine starts in park and neutral only, and park holds on a slope (49 CFR 571.102 and 571.114). Try "
        "both again once the selector stands elsewhere, and the lock that keeps it in park until the brake is "
        "pressed. Set its cable so that each detent of the lever meets its detent in the gearbox.",
    ),
    "order": (
        "The places of the selector",
        "They are not in the order that 49 CFR 571.102 asks for: neutral between reverse and the forward places, "
        "and park, if there is one, at the end beside reverse. Look at what was entered, and ask whoever passes "
        "the car.",
    ),
    "rock": (
        "A lever that rocks with the engine",
        "The lever stands on the gearbox and no engine rock was entered for it. Its gaps hold for an "
        "engine at rest only.",
    ),
    "handbrake": (
        "Handbrake",
        "Pull it to the end of its travel, with your hand round it, before and after the console is in. "
        "Cable stretch makes the travel longer over the years.",
    ),
    "pedals": (
        "Pedals and steering",
        "Nothing may fall, slide or roll under a pedal. Work the pedals to the floor and the steering "
        "from lock to lock with everything fitted.",
    ),
    "loads": (
        "What carries load",
        "The shifter stands on metal that is bolted to the car\u2019s structure through spreading plates. "
        "Printed parts carry no load of shifter, belt or seat. Strength was not worked out here.",
    ),
    "crash": (
        "In a crash",
        "Head, knees and arms meet what is near them: round it off and pad it. Printed plastic can break "
        "into sharp pieces, so line it where knees go. What stands loose in a holder flies.",
    ),
    "drinks": (
        "Vessels",
        "A hot drink scalds. How hard a vessel is held is worked out for an even push, in a corner or under braking. "
        "Friction in a well is left out, which errs to the cautious side. Wobble from the road and a drink that "
        "sloshes are left out too: with them it may leave its well, or spill, sooner than told.",
    ),
    "approval": (
        "Approval",
        "Nearly every country has rules for the fittings of a cabin, for example UN Regulation No. 21 or "
        "49 CFR 571.201. This paper certifies nothing. Ask the inspector or the certifier of your place "
        "before you build; what they say comes before what stands here.",
    ),
    "fire": (
        "Fire",
        "Cabin materials have to burn slowly: 49 CFR 571.302 allows 102 mm a minute. Filament for "
        "printing is as a rule not tested for it. Put a fuse at the source of every feed.",
    ),
    "heat": (
        "Heat",
        "Choose plastic and glue for the hottest day in a closed car, with the load on, and with exhaust "
        "and gearbox below. What is fine for a mock-up may creep in the first summer.",
    ),
    "dust": (
        "Dust and fumes",
        "Sanding filler or glass fibre, resins, solvents and hot plastic call for a mask, fresh air and "
        "gloves. Keep scanning sprays off the belts.",
    ),
    "driving": (
        "While driving",
        "What is used on the move has to be in reach with the belts on and without looking for it.",
    ),
    "others": (
        "Whoever else sits there",
        "Only the people and seat notches entered were looked at. Check again for every other driver, "
        "passenger and child seat that uses the car.",
    ),
    "record": (
        "Keep a record",
        "Keep the parts you take out, note what was drilled, and tell the insurer.",
    ),
}
