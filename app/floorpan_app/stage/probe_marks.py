"""Where places were measured by hand: a cross with the probe's number."""

import numpy as np

from floorpan.frames import STILL
from floorpan.layout import ScanRef
from floorpan_app.stage import words
from floorpan_app.viewport.marks import PickMark


def probed(scan: ScanRef) -> tuple[PickMark, ...]:
    """A mark for each probe of a scan, in the picture's axes."""
    marks = []
    for probe in scan.probes:
        x, y, z = (scan.pose or STILL).apply(np.add(probe.at_mm, probe.offset_mm))
        letter = words.PROBE_LETTER.format(n=probe.id.rpartition("-")[2])
        marks.append(PickMark(letter=letter, at_mm=(float(x), float(y), float(z)), text=probe.note))
    return tuple(marks)
