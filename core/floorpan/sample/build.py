"""The invented car put together."""

from dataclasses import replace

from floorpan.sample.car import Car
from floorpan.sample.fittings import fittings, seats
from floorpan.sample.panels import panels
from floorpan.sample.plan import CarSizes


def build_car(sizes: CarSizes, *, with_seats: bool = True) -> Car:
    """The solids of the car in car axes, mm; without seats, its bare floor as it is scanned first."""
    left = replace(sizes, driver_side="left")
    car = Car((*panels(left), *fittings(left), *(seats(left) if with_seats else ())))
    return car if sizes.driver_side == "left" else car.mirrored()
