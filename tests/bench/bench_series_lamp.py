"""How long the operating curve of a series lamp takes: `python -m tests.bench.bench_series_lamp`.

170 supply voltages, each kind of load, the lamp by its law and by its heat; the median of 30 runs
in milliseconds. To reach: 5 ms.
"""

from statistics import median
from time import perf_counter

from shop.calc.series_lamp.lamp import Lamp
from shop.calc.series_lamp.loads import ConstantPower, Impedance, Load, Mixed, Resistance
from shop.calc.series_lamp.points import operating_points

LOADS: dict[str, Load] = {
    "resistance 1058 ohm": Resistance(1058),
    "constant power 20 W": ConstantPower(20),
    "mixed 25 W, m 0.5": Mixed(25, 230, 0.5),
    "impedance 2000 + j1500 ohm": Impedance(2000, 1500),
}


LAMPS = {"by law": Lamp(100, 230), "by heat": Lamp(100, 230).by_heat(0.15)}


def curve(lamp: Lamp, load: Load) -> float:
    """One curve from 1.5 V to 255 V; milliseconds taken."""
    begun = perf_counter()
    for step in range(1, 171):
        operating_points(lamp, load, step * 1.5)
    return (perf_counter() - begun) * 1000


if __name__ == "__main__":
    for name, load in LOADS.items():
        for way, lamp in LAMPS.items():
            taken = median(curve(lamp, load) for _ in range(30))
            print(f"{name:28} {way:8} {taken:6.2f} ms for 170 supply voltages")
