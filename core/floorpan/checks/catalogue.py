"""Every check, in report order. A new check is one file and one line here."""

from floorpan.checks import (
    armrest,
    buckle,
    console_seen,
    cup,
    cup_hold,
    forearm,
    hand,
    handbrake,
    keep_out,
    lever,
    limbs,
    reach,
    reach_for,
    seat_travel,
    stands,
    unread,
)
from floorpan.checks.check import Check

CHECKS: tuple[Check, ...] = (
    *reach.CHECKS,
    *reach_for.CHECKS,
    *hand.CHECKS,
    *forearm.CHECKS,
    *lever.CHECKS,
    *handbrake.CHECKS,
    *buckle.CHECKS,
    *armrest.CHECKS,
    *keep_out.CHECKS,
    *limbs.CHECKS,
    *cup.CHECKS,
    *cup_hold.CHECKS,
    *seat_travel.CHECKS,
    *console_seen.CHECKS,
    *stands.CHECKS,
    *unread.CHECKS,
)
