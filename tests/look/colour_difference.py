"""How far apart two colours are, for normal eyes and for three kinds of colour blindness; and how well they read.

* sRGB to CIELAB (D65, 2 degrees): IEC 61966-2-1 and CIE 15.
* Colour difference: CIEDE2000 after CIE 142; formula as set out in G. Sharma, W. Wu, E. N. Dalal, "The CIEDE2000
  color-difference formula", Color Research and Application 30 (2005), 21-30.
* Colour blindness: matrices at full severity from G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, "A
  physiologically-based model for simulation of color vision deficiency", IEEE Transactions on Visualization and
  Computer Graphics 15 (2009), 1291-1298; applied to linear sRGB.
* Contrast: WCAG 2.2, "contrast ratio" and "relative luminance".
"""

import math

import numpy as np
from numpy.typing import NDArray

Vector = NDArray[np.float64]

VISIONS: dict[str, Vector] = {
    "normal": np.eye(3),
    "protan": np.array(
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]
    ),
    "deutan": np.array(
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
    ),
    "tritan": np.array(
        [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]]
    ),
}

_XYZ_OF_RGB = np.array(
    [[0.4124564, 0.3575761, 0.1804375], [0.2126729, 0.7151522, 0.0721750], [0.0193339, 0.1191920, 0.9503041]]
)
_WHITE = np.array([0.95047, 1.0, 1.08883])


def linear_rgb(colour: str) -> Vector:
    """Linear sRGB, 0 to 1, of `#RRGGBB`."""
    coded = np.array([int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)])
    return np.where(coded <= 0.04045, coded / 12.92, ((coded + 0.055) / 1.055) ** 2.4)


def lab(colour: str, vision: str = "normal") -> Vector:
    """CIELAB of `#RRGGBB` as somebody with `vision` sees it."""
    seen = np.clip(VISIONS[vision] @ linear_rgb(colour), 0.0, 1.0)
    ratio = _XYZ_OF_RGB @ seen / _WHITE
    root = np.where(ratio > 216 / 24389, np.cbrt(ratio), (24389 / 27 * ratio + 16) / 116)
    return np.array([116 * root[1] - 16, 500 * (root[0] - root[1]), 200 * (root[1] - root[2])])


def _hue_deg(b: float, a: float) -> float:
    return math.degrees(math.atan2(b, a)) % 360 if a or b else 0.0


def _mean_hue_deg(first: float, second: float, product: float) -> float:
    if product == 0:
        return first + second
    if abs(first - second) <= 180:
        return (first + second) / 2
    return (first + second + (360 if first + second < 360 else -360)) / 2


def _hue_step_deg(first: float, second: float, product: float) -> float:
    if product == 0:
        return 0.0
    step = second - first
    if step > 180:
        return step - 360
    return step + 360 if step < -180 else step


def ciede2000(one: Vector, two: Vector) -> float:
    """CIEDE2000 between two CIELAB colours, all weights 1."""
    l1, a1, b1 = (float(v) for v in one)
    l2, a2, b2 = (float(v) for v in two)
    mean_c7 = ((math.hypot(a1, b1) + math.hypot(a2, b2)) / 2) ** 7
    stretch = 1.5 - 0.5 * math.sqrt(mean_c7 / (mean_c7 + 25.0**7))
    c1, c2 = math.hypot(a1 * stretch, b1), math.hypot(a2 * stretch, b2)
    h1, h2 = _hue_deg(b1, a1 * stretch), _hue_deg(b2, a2 * stretch)
    d_h = 2 * math.sqrt(c1 * c2) * math.sin(math.radians(_hue_step_deg(h1, h2, c1 * c2)) / 2)
    mean_l, mean_c, mean_h = (l1 + l2) / 2, (c1 + c2) / 2, _mean_hue_deg(h1, h2, c1 * c2)
    t = (
        1
        - 0.17 * math.cos(math.radians(mean_h - 30))
        + 0.24 * math.cos(math.radians(2 * mean_h))
        + 0.32 * math.cos(math.radians(3 * mean_h + 6))
        - 0.20 * math.cos(math.radians(4 * mean_h - 63))
    )
    s_l = 1 + 0.015 * (mean_l - 50) ** 2 / math.sqrt(20 + (mean_l - 50) ** 2)
    s_c, s_h = 1 + 0.045 * mean_c, 1 + 0.015 * mean_c * t
    turn = 60 * math.exp(-(((mean_h - 275) / 25) ** 2))
    r_t = -math.sin(math.radians(turn)) * 2 * math.sqrt(mean_c**7 / (mean_c**7 + 25.0**7))
    l_part, c_part, h_part = (l2 - l1) / s_l, (c2 - c1) / s_c, d_h / s_h
    return math.sqrt(l_part**2 + c_part**2 + h_part**2 + r_t * c_part * h_part)


def least_difference(one: str, two: str) -> float:
    """The smallest CIEDE2000 between `#RRGGBB` colours over the four visions."""
    return min(ciede2000(lab(one, vision), lab(two, vision)) for vision in VISIONS)


def contrast(one: str, two: str) -> float:
    """WCAG contrast ratio between `#RRGGBB` colours, 1 to 21."""
    weights = np.array([0.2126, 0.7152, 0.0722])
    light, dark = sorted((float(weights @ linear_rgb(one)), float(weights @ linear_rgb(two))), reverse=True)
    return (light + 0.05) / (dark + 0.05)
