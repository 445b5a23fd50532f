"""A door shut, half open, open and on its way: against seats, a handbrake at the sill, buckles, console, cup holders.

A seat on its rails and a handbrake that is pulled pass a door that stands.
"""

from floorpan.checks.opens import opening, passing
from floorpan.checks.shells import shells
from floorpan.checks.who import every
from floorpan.items import Buckle, Door, Handbrake, Seat

_DOORS = every(Door)

CHECKS = (
    *opening("door-seat", _DOORS, every(Seat)),
    passing("door-seat", every(Seat), _DOORS),
    *opening("door-handbrake", _DOORS, every(Handbrake)),
    passing("door-handbrake", every(Handbrake), _DOORS),
    *opening("door-buckle", _DOORS, every(Buckle)),
    *opening("door-console", _DOORS, shells),
)
