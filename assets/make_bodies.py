"""Body sizes for the program, computed from the rows of an open survey: figures leave it, rows do not.

    python assets/make_bodies.py PATH/TO/ansur2_reach_columns.csv

The file holds one person a row: `sex` M or F, lengths in mm, `weightkg` in tenths of a kilogram. Written is
`assets/floorpan_assets/bodies.json`. A test computes the same figures again where the rows are there.
"""

import csv
import json
import sys
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri
from scipy.stats import rankdata

Floats = NDArray[np.float64]
WRITTEN = Path(__file__).parent / "floorpan_assets" / "bodies.json"
SEXES = {"man": "M", "woman": "F"}
PERCENTS = (1.0, 5.0, 10.0, 25.0, 50.0, 75.0, 90.0, 95.0, 99.0)

SOURCE = (
    "Computed from the 4082 men and 1986 women of Gordon et al., 2012 Anthropometric Survey of U.S. Army "
    "Personnel: Methods and Summary Statistics, NATICK/TR-15/007, December 2014."
)
LICENCE = "US Government work; the report is marked for public release, distribution unlimited."
NOTE = (
    "Bare or lightly clad soldiers of 17 to 58 years, fitter and younger than drivers at large: sizes outside "
    "exist. Units by the key: mm or kg. quantiles: one row a measure, at least, then the percents, then most. "
    "covariance: of the sizes. scores: correlation of the sizes, where those marked shaped are first "
    "turned to normal scores by rank, because a bell curve misses their percentiles by too much."
)


@dataclass(frozen=True, kw_only=True)
class Measure:
    """A measure of a body: columns with their weights, whether its spread is shaped, how a tape takes it."""

    key: str
    label: str
    columns: Mapping[str, float]
    how: str
    shaped: bool = False


def _one(key: str, label: str, column: str, how: str, *, shaped: bool = False) -> Measure:
    weight = 0.1 if column == "weightkg" else 1.0
    return Measure(key=key, label=label, columns={column: weight}, how=how, shaped=shaped)


TALL = (
    _one(
        "stature_mm", "Height", "stature", "Standing barefoot against a wall, floor to the top of the head."
    ),
    _one("sitting_height_mm", "Sitting height", "sittingheight", "Upright on a hard bench, bench to crown."),
    _one("eye_height_mm", "Eye height, sitting", "eyeheightsitting", "Upright, bench to corner of the eye."),
    Measure(
        key="shoulder_height_mm",
        label="Shoulder height, sitting",
        # No survey of sitting people has it; good to about 12 mm for one person.
        columns={"sittingheight": 1.0, "stature": -1.0, "acromialheight": 1.0},
        how="Upright on a hard bench, bench to the bony point on top of the shoulder.",
    ),
    _one("elbow_rest_mm", "Elbow rest height", "elbowrestheight", "Elbow square, bench to under the elbow."),
    _one("knee_height_mm", "Knee height, sitting", "kneeheightsitting", "Floor to the top of the bent knee."),
    _one("popliteal_height_mm", "Under-knee height", "poplitealheight", "Floor to under the bent knee."),
)
ARM = (
    _one(
        "upper_arm_mm",
        "Upper arm",
        "acromionradialelength",
        "Arm hanging, bony shoulder point to the outer elbow joint.",
    ),
    _one(
        "elbow_to_wrist_mm",
        "Elbow to wrist",
        "radialestylionlength",
        "Arm hanging, outer elbow joint to the wrist bone on the thumb's side.",
    ),
    Measure(
        key="wrist_to_grip_mm",
        label="Wrist to grip",
        columns={"handlength": 1.0, "forearmhandlength": -1.0, "forearmcenterofgriplength": 1.0},
        how="Wrist crease to the middle of a rod held in the fist.",
    ),
    Measure(
        key="shoulder_to_grip_mm",
        label="Shoulder to grip",
        # Joint to joint: lengths taken from the back of the elbow would count the elbow twice.
        columns={
            "acromionradialelength": 1.0,
            "radialestylionlength": 1.0,
            "handlength": 1.0,
            "forearmhandlength": -1.0,
            "forearmcenterofgriplength": 1.0,
        },
        how="Arm held straight, bony shoulder point to the middle of a rod held in the fist.",
        shaped=True,
    ),
    _one("hand_length_mm", "Hand length", "handlength", "Wrist crease to the tip of the middle finger."),
    _one("hand_breadth_mm", "Hand breadth", "handbreadth", "Across the knuckles, without the thumb."),
    _one("hand_round_mm", "Hand, round", "handcircumference", "Tape round the knuckles, without the thumb."),
    _one(
        "shoulder_to_elbow_mm",
        "Shoulder to elbow",
        "shoulderelbowlength",
        "Elbow square, bony shoulder point to under the elbow.",
    ),
    _one(
        "elbow_to_fingertip_mm",
        "Elbow to fingertip",
        "forearmhandlength",
        "Elbow square, back of the elbow to the tip of the middle finger.",
    ),
    _one(
        "thumb_tip_reach_mm",
        "Thumb-tip reach",
        "thumbtipreach",
        "Back against a wall, arm straight ahead, wall to the tip of the thumb.",
    ),
)
ROUND = (
    _one("weight_kg", "Weight", "weightkg", "In light clothes, on scales.", shaped=True),
    _one("thigh_mm", "Thigh clearance", "thighclearance", "Bench to the top of the thigh.", shaped=True),
    _one(
        "belly_depth_mm",
        "Belly depth, sitting",
        "abdominalextensiondepthsitting",
        "Upright, back to the front of the belly.",
        shaped=True,
    ),
    _one(
        "buttock_to_knee_mm",
        "Buttock to knee",
        "buttockkneelength",
        "Back to a wall, sitting, wall to the front of the knee.",
        shaped=True,
    ),
    _one(
        "buttock_to_popliteal_mm",
        "Buttock to under-knee",
        "buttockpopliteallength",
        "Back to a wall, sitting, wall to the hollow of the knee.",
        shaped=True,
    ),
    _one(
        "hip_breadth_mm", "Hip breadth, sitting", "hipbreadthsitting", "Widest across the hips.", shaped=True
    ),
    _one(
        "shoulder_breadth_mm",
        "Shoulder breadth",
        "bideltoidbreadth",
        "Widest across the upper arms, arms hanging.",
        shaped=True,
    ),
    _one(
        "acromion_breadth_mm",
        "Shoulder points apart",
        "biacromialbreadth",
        "Between the two bony points on top of the shoulders.",
    ),
    _one(
        "elbows_breadth_mm",
        "Breadth over elbows",
        "forearmforearmbreadth",
        "Sitting, elbows square and at the sides, widest across the forearms.",
        shaped=True,
    ),
    _one("foot_length_mm", "Foot length", "footlength", "Barefoot, heel to the longest toe."),
    _one("foot_breadth_mm", "Foot breadth", "footbreadthhorizontal", "Barefoot, widest across the ball."),
)
MEASURES = TALL + ARM + ROUND


def read_rows(path: Path) -> dict[str, Floats]:
    """For each sex an (n, M) array of the measures in the order of MEASURES [mm, kg]."""
    with path.open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    return {
        sex: np.array(
            [
                [sum(weight * float(row[name]) for name, weight in one.columns.items()) for one in MEASURES]
                for row in rows
                if row["sex"] == letter
            ]
        )
        for sex, letter in SEXES.items()
    }


def figures_of(rows: Floats) -> dict[str, object]:
    """Mean, covariance, correlation of scores and quantiles of an (n, M) array."""
    quantiles = np.percentile(rows, [0.0, *PERCENTS, 100.0], axis=0).T
    return {
        "n": len(rows),
        "mean": rows.mean(axis=0).round(6).tolist(),
        "covariance": np.cov(rows.T).round(6).tolist(),
        "scores": np.corrcoef(_scored(rows).T).round(8).tolist(),
        "quantiles": quantiles.round(6).tolist(),
    }


def _scored(rows: Floats) -> Floats:
    """The rows with each shaped column replaced by its normal scores."""
    scored = rows.copy()
    for place, one in enumerate(MEASURES):
        if one.shaped:
            scored[:, place] = ndtri((rankdata(rows[:, place]) - 0.5) / len(rows))
    return scored


def bodies(path: Path) -> dict[str, object]:
    """Everything that is shipped."""
    return {
        "source": SOURCE,
        "licence": LICENCE,
        "note": NOTE,
        "percents": list(PERCENTS),
        "measures": [
            {"key": one.key, "label": one.label, "how": one.how, "shaped": one.shaped} for one in MEASURES
        ],
        "figures": {sex: figures_of(rows) for sex, rows in read_rows(path).items()},
    }


def _lines(value: object, deep: int = 0) -> Iterator[str]:
    """JSON with a line for each measure and for each row of a table, to be read and compared."""
    if isinstance(value, dict) and deep < 3:
        inner = [
            f"{'  ' * deep}  {json.dumps(key)}: {''.join(_lines(held, deep + 1)).lstrip()}"
            for key, held in value.items()
        ]
        yield "{\n" + ",\n".join(inner) + "\n" + "  " * deep + "}"
    elif isinstance(value, list) and isinstance(value[0], list | dict):
        inner = ["  " * deep + "  " + json.dumps(row) for row in value]
        yield "[\n" + ",\n".join(inner) + "\n" + "  " * deep + "]"
    else:
        yield json.dumps(value)


def text_of(shipped: Mapping[str, object]) -> str:
    """The shipped figures as the text of the file."""
    return "".join(_lines(dict(shipped))) + "\n"


if __name__ == "__main__":
    WRITTEN.write_text(text_of(bodies(Path(sys.argv[1]))), encoding="utf-8")
