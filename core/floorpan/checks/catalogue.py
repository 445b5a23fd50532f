"""Every check, in report order. A new check is one file and one line here."""

from floorpan.checks import (
    console_seen,
    cup,
    hand,
    handbrake,
    lever,
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
    *lever.CHECKS,
    *handbrake.CHECKS,
    *cup.CHECKS,
    *seat_travel.CHECKS,
    *console_seen.CHECKS,
    *stands.CHECKS,
    *unread.CHECKS,
)
