"""How long posing a whole population takes here: every body, every gear, belts tight and loose.

    python tests/bench/bench_population.py [bodies]

The bodies are drawn about the middle of the men of the 2012 Anthropometric Survey of U.S. Army Personnel. Beside
it stands the obvious way: `reach` body by body, timed on a few and multiplied. The load of the machine is in all
times; the least and the middle of several rounds are shown.
"""

import statistics
import sys
import time

import numpy as np

from floorpan.driver.person import BELT_STOPS, Person
from floorpan.driver.population import Bodies, reach_margins, shares
from floorpan.driver.reach import reach

H_POINT = (900.0, -350.0, 200.0)
BACK_DEG = 22.0
GATE = [(x, y, 420.0) for x in (520.0, 570.0, 620.0) for y in (-40.0, 0.0, 40.0)][:8]
ROUNDS = 25
ONE_BY_ONE = 20


def population(bodies: int) -> Bodies:
    draw = np.random.default_rng(1)
    return Bodies(
        shoulder_to_grip_mm=draw.normal(665.0, 33.0, bodies),
        shoulder_mm=draw.normal(508.0, 31.0, bodies),
        shoulder_out_mm=draw.normal(207.5, 10.0, bodies),
    )


def both(bodies: Bodies, grips: np.ndarray) -> list[np.ndarray]:
    return [reach_margins(bodies, H_POINT, BACK_DEG, "right", grips, belts) for belts in BELT_STOPS]


def main(number: int) -> None:
    bodies, grips, times = population(number), np.array(GATE), []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        margins = both(bodies, grips)
        times.append(1000.0 * (time.perf_counter() - start))
    print(f"{number:,} bodies, {len(grips)} gears, tight and loose: {min(times):.1f} ms at least, ", end="")
    print(f"{statistics.median(times):.1f} ms in the middle")
    start = time.perf_counter()
    told = [shares(margin) for margin in margins]
    print(f"counting: {1000.0 * (time.perf_counter() - start):.1f} ms")
    for belts, share in zip(BELT_STOPS, told, strict=True):
        print(f"  {belts:5} every gear {100 * share.every:5.1f} % +- {100 * share.every_error:.1f}")
    start = time.perf_counter()
    for row in range(ONE_BY_ONE):
        person = Person(id="d-1", shoulder_to_grip_mm=float(bodies.shoulder_to_grip_mm[row]))
        for belts in BELT_STOPS:
            for grip in GATE:
                reach(person, H_POINT, BACK_DEG, belts, "right", grip)
    whole = (time.perf_counter() - start) * number / ONE_BY_ONE
    print(f"body by body: {whole:.0f} s")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 6068)
