"""The scan is slow to make, so it is made once."""

import pytest

from floorpan.sample.build import build_car
from floorpan.sample.car import Car
from floorpan.sample.plan import CarSizes
from floorpan.sample.scanner import Scan, simulate_scan

# Coarse enough to be made twice in a test.
COARSE_MM = 9.0


@pytest.fixture(scope="session")
def car() -> Car:
    return build_car(CarSizes())


@pytest.fixture(scope="session")
def scan() -> Scan:
    return simulate_scan(CarSizes(), seed=1)


@pytest.fixture(scope="session")
def coarse_scan() -> Scan:
    return simulate_scan(CarSizes(), seed=1, spacing_mm=COARSE_MM)
