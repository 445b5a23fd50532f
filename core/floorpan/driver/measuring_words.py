"""How each length is taped, in one or two plain sentences; definitions after Gordon et al. 2014, in our own words."""

from typing import Final

SENTENCES: Final[dict[str, str]] = {
    # --- the arm ------------------------------------------------------------------------------------------------------
    "shoulder_to_grip_mm": (
        "Arm straight ahead, fist round a rod. Tape from the bony tip of the shoulder, not from the "
        "neck, to the middle of the rod. Shoulder stays on the backrest."
    ),
    "upper_arm_mm": (
        "Arm hanging, palm in. From the bony tip of the shoulder straight down to the joint at the "
        "outside of the elbow, not round the point of the elbow."
    ),
    "elbow_to_wrist_mm": (
        "Arm hanging, palm in. From the joint at the outside of the elbow along the bone to the knob of "
        "the wrist on the thumb\u2019s side."
    ),
    "wrist_to_grip_mm": (
        "Fist round a rod, wrist straight. From the crease of the wrist, level with its knob on the "
        "thumb\u2019s side, to the middle of the rod."
    ),
    "shoulder_to_elbow_mm": (
        "Sitting upright, elbow square. From the bony tip of the shoulder straight down to under the "
        "elbow; a book under the elbow gives an edge."
    ),
    "elbow_to_fingertip_mm": (
        "Elbow square, hand straight. From a wall behind the elbow to the tip of the middle finger, "
        "level along the forearm."
    ),
    "thumb_tip_reach_mm": (
        "Both shoulders against a wall, arm level straight ahead, thumb on the bent forefinger. From the "
        "wall to the tip of the thumb; do not stretch the shoulder off."
    ),
    # --- belted in, in the car ----------------------------------------------------------------------------------------
    "shoulder_mm": (
        "In the seat, hips right back, belts tight. Along the torso from the hip joint, felt where the "
        "thigh folds at the side, to the bony tip of the shoulder."
    ),
    "shoulder_out_mm": (
        "Sitting straight, shoulders loose. Level from the middle of the breastbone to the bony tip of "
        "the shoulder; or half of what lies between both tips."
    ),
    "elbow_over_cushion_mm": (
        "In the seat, belts tight, upper arm hanging, elbow square. Upright from the cushion beside the "
        "hip, weight on it, to under the elbow."
    ),
    "loose_forward_mm": (
        "Belts loose. Mark where the shoulder lies on the backrest, then reach for the knob as you "
        "would: how far the bony tip has come forward."
    ),
    "loose_turn_deg": (
        "Belts loose, reaching for the knob. From above: how far the line through both shoulders turns; "
        "a lath across the shoulders shows it."
    ),
    "lean_off_deg": (
        "Belts tight. Angle between the line from hip to shoulder and the line of the backrest, a bevel "
        "on each; further back than the seat counts as plus."
    ),
    "elbow_least_deg": (
        "At the elbow, from upper arm to forearm, hand on the knob: the closest bend that is still "
        "comfortable. Square is 90."
    ),
    "elbow_most_deg": (
        "At the elbow, from upper arm to forearm, hand on the knob: the furthest stretch that is still "
        "comfortable. Straight is 180."
    ),
    "hip_point": (
        "In the seat, hips right back, belts tight. The hip joint: at the side, where the thigh folds, a "
        "hand\u2019s breadth over the pressed cushion."
    ),
    "shoulder_point": (
        "Belts tight, back on the backrest. The bony tip of the shoulder: walk a finger out along the "
        "collar bone until it drops off, then back on to the edge."
    ),
    "elbow_point": (
        "Belts tight, hand on the knob. The joint at the outside of the elbow: the dimple that opens "
        "when the arm turns, not the point of the elbow."
    ),
    "knuckle_point": (
        "Belts tight, hand on the knob in neutral. The knuckle of the middle finger, where the finger "
        "meets the hand."
    ),
    # --- what is worn -------------------------------------------------------------------------------------------------
    "glove_mm": (
        "Breadth over the knuckles with the glove on, less the bare breadth, halved. Fist closed both "
        "times, calliper just touching."
    ),
    "jacket_mm": (
        "Depth of the chest at the height of the heart with the jacket on, belts tight, and again "
        "without: half of what it gains. Sleeves are taken to be as thick."
    ),
    "helmet_mm": (
        "From the crown to the top of the helmet, helmet on and strapped: height with it less height without."
    ),
    "shoe_mm": "Thickness of the sole under the heel, weight on it: heel of the foot to the floor.",
    # --- sitting on a bench -------------------------------------------------------------------------------------------
    "sitting_height_mm": (
        "Upright on a hard bench, eyes level, hips to the wall. From the bench to the top of the head, a "
        "book level on the hair pressed down."
    ),
    "eye_height_mm": (
        "Upright on a hard bench, looking level. Upright from the bench to the outer corner of the eye; "
        "hold the tape beside the head."
    ),
    "shoulder_height_mm": (
        "Upright on a hard bench, arms hanging loose. Upright from the bench to the bony tip of the "
        "shoulder; do not shrug."
    ),
    "elbow_rest_mm": (
        "Upright on a hard bench, upper arm hanging, elbow square. Upright from the bench to under the "
        "elbow; do not lean on it."
    ),
    "knee_height_mm": (
        "Sitting, knee square, foot flat, barefoot. Upright from the floor to the top of the knee, just "
        "over the kneecap."
    ),
    "popliteal_height_mm": (
        "Sitting, knee square, foot flat, barefoot. Upright from the floor to the underside of the thigh "
        "in the hollow of the knee."
    ),
    "thigh_mm": (
        "Sitting, knees square. Upright from the bench to the highest place of the thigh, close to the "
        "belly; rest a rule on it without pressing."
    ),
    "belly_depth_mm": (
        "Sitting upright, breathing easily. Level from the back to the furthest front of the belly, at "
        "the same height; do not draw it in."
    ),
    "buttock_to_knee_mm": (
        "Sitting, buttocks just touching a wall, knee square. Level from the wall to the front of the "
        "kneecap."
    ),
    "buttock_to_popliteal_mm": (
        "Sitting, buttocks just touching a wall, knee square. Level from the wall to the back of the "
        "lower leg, in the hollow of the knee."
    ),
    "hip_breadth_mm": (
        "Sitting, knees together. Level across the hips at their widest; two books stood at the sides, "
        "touching without pressing."
    ),
    "shoulder_breadth_mm": (
        "Sitting upright, arms hanging. Level across the upper arms at their widest, from outside to "
        "outside, without pressing."
    ),
    "acromion_breadth_mm": (
        "Sitting upright, shoulders loose. Straight from one bony tip of the shoulder to the other, "
        "behind the neck; not round the back."
    ),
    "elbows_breadth_mm": (
        "Sitting, elbows square, resting lightly at the sides. Level across the forearms at their "
        "widest; do not press the elbows in."
    ),
    # --- standing, hand and foot --------------------------------------------------------------------------------------
    "stature_mm": (
        "Barefoot, heels and back to a wall, looking level. From the floor to the top of the head, a "
        "book square to the wall on the hair."
    ),
    "weight_kg": "In light clothes, no shoes, standing still on scales on a hard floor.",
    "hand_length_mm": (
        "Hand flat, fingers together. From the crease of the wrist at the palm to the tip of the middle "
        "finger, without the nail."
    ),
    "hand_breadth_mm": (
        "Hand flat, fingers together. Across the knuckles from forefinger to little finger, without the "
        "thumb."
    ),
    "hand_round_mm": (
        "Hand flat, fingers together. Tape round the knuckles, without the thumb, snug but not tight."
    ),
    "foot_length_mm": (
        "Barefoot, standing on both feet, heel to a wall. From the wall to the tip of the longest toe, "
        "along the foot."
    ),
    "foot_breadth_mm": (
        "Barefoot, standing on both feet. Across the ball of the foot at its widest, square to its length."
    ),
}
"""One or two sentences a key: where the tape goes, how to sit or stand, what to press, what goes wrong."""

LABELS: Final[dict[str, str]] = {
    "elbow_over_cushion_mm": "Elbow over cushion",
    "hip_point": "Hip",
    "shoulder_point": "Shoulder",
    "elbow_point": "Elbow",
    "knuckle_point": "Knuckle",
}
"""Labels of what is neither a measure of a body nor a field of a person."""

VIEWS: Final[dict[str, str]] = {
    "seated": "A figure sits upright on a bench, seen from the side",
    "standing": "A figure stands upright, seen from the side",
    "arm ahead": "Head and chest from the side, one arm held straight ahead",
    "front": "A figure sits upright, seen from the front",
    "driving": "A figure sits belted in its seat, seen from the side",
    "from above": "Head and shoulders in the seat, seen from above",
    "hand": "A flat hand, seen from its back",
    "fist": "A fist round a rod",
    "foot": "A foot, seen from above",
    "jacket": "A figure in a jacket, seen from the side",
    "helmet": "A head in a helmet, seen from the side",
    "shoe": "A foot on the sole of a shoe, seen from the side",
}

MARKED: Final = "{view}. Marked: {one} to {other}."
MARKED_ANGLE: Final = "{view}. Marked: the angle at the {at}."
MARKED_LOOP: Final = "{view}. Marked: a tape laid round the knuckles."
MARKED_POINT: Final = "{view}. Marked: the {at}."
MARKED_NONE: Final = "{view}."

LANDMARKS: Final[dict[str, str]] = {
    "floor": "floor",
    "bench": "bench",
    "wall": "wall",
    "crown": "top of the head",
    "eye": "corner of the eye",
    "shoulder": "bony tip of the shoulder",
    "pinned": "where the shoulder lies with the belts tight",
    "elbow": "joint at the outside of the elbow",
    "elbow_under": "under the elbow",
    "elbow_back": "back of the elbow",
    "wrist": "knob of the wrist",
    "crease": "wrist",
    "grip": "middle of the rod",
    "knuckle": "knuckle of the middle finger",
    "fingertip": "tip of the middle finger",
    "tip": "tip of the middle finger",
    "thumb_tip": "tip of the thumb",
    "belly_front": "front of the belly",
    "belly_back": "back",
    "knee_top": "top of the knee",
    "knee_front": "front of the knee",
    "hollow": "hollow of the knee",
    "under_knee": "under the knee",
    "thigh_top": "top of the thigh",
    "hip": "hip",
    "cushion": "cushion",
    "chest": "middle of the chest",
    "hip_right": "one hip",
    "hip_left": "the other hip",
    "deltoid_right": "one upper arm",
    "deltoid_left": "the other upper arm",
    "point_right": "one tip of the shoulder",
    "point_left": "other tip of the shoulder",
    "forearm_right": "one forearm",
    "forearm_left": "the other forearm",
    "knuckles_top": "one side of the knuckles",
    "knuckles_foot": "the other",
    "hand_foot": "hand",
    "glove_foot": "glove",
    "heel": "heel",
    "toe": "longest toe",
    "ball_top": "one side of the ball",
    "ball_foot": "the other",
    "back": "back",
    "jacket": "jacket",
    "helmet": "top of the helmet",
    "sole": "heel of the foot",
    "middle": "middle of the shoulders",
}
