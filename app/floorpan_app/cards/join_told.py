"""What a join comes to, in words."""

import numpy as np

from floorpan.layout import ScanRef
from floorpan.report.join_told import way_text
from floorpan.scan.axis_doubt import ODD_MM
from floorpan.scan.joining import Joined, TargetFit
from floorpan.units import System, show_number
from floorpan_app.cards import join_words as words
from floorpan_app.cards.notice import Tone
from floorpan_app.cards.spelling import show_small


def targets_told(scan: ScanRef, fit: TargetFit | None, system: System) -> str:
    """How well common targets agree, and what they cannot tell."""
    if fit is None:
        return ""
    told = [words.TARGETS_LEFT.format(rms=show_small(fit.rms_mm, system), unit=system)]
    if fit.mirrored:
        told.append(words.MIRRORED)
    if fit.rms_mm > ODD_MM and not fit.odd and not fit.mirrored:
        told.append(words.TARGETS_WIDE)
    if fit.odd:
        number = [target.id for target in scan.targets].index(fit.odd)
        name = scan.targets[number].name or words.TARGET_NAME.format(n=number + 1)
        told.append(words.TARGET_ODD.format(name=name))
    if not fit.can_tell_mirror:
        told.append(words.CANNOT_TELL_MIRROR)
    return " ".join(told)


def join_told(joined: Joined | None, onto: ScanRef, system: System) -> tuple[str, Tone]:
    """How a scan stands on the one it is joined to; empty where it is not."""
    if joined is None:
        return "", "quiet"
    u, rms = show_small(joined.u_mm, system), show_small(joined.rms_mm, system)
    if joined.by == "targets":
        return words.STANDS_BY_TARGETS.format(n=joined.places, u=u, unit=system), "next"
    stands = words.STANDS_BY_SURFACES.format(n=show_number(joined.places, 0), rms=rms, unit=system)
    if not joined.loose:
        whole = show_small(2.0 * joined.doubt_mm(np.array(joined.centre_mm)), system)
        return f"{stands} {words.HELD.format(u=whole, unit=system)}", "clear"
    ways = words.AND.join(way_text(way, onto.pose) for way in joined.loose)
    return f"{stands} {words.LOOSE.format(ways=ways, u=u, unit=system)}", "close"
