"""From file to floor: reading, units, quality, axes, cropping, thinning, unseen patches."""

from floorpan.scan.axes import AxesFit, AxisPick, fit_axes
from floorpan.scan.read import RawScan, read_scan

__all__ = ["AxesFit", "AxisPick", "RawScan", "fit_axes", "read_scan"]
