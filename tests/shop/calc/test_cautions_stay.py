"""What an example is answered with: the kind of answer, and the cautions no screen may lose.

A few telling words of each caution are asked for, so that sentences may be improved. Cautions are
rules of safe work: common practice, no source, unless the calculator's own tests name one.
"""

import pytest

from shop.calc.registry import calculators, work_out

LOCAL = "local codes"
LIVE = ("Lamp and unit", "Stay with the unit", LOCAL)
SHOCK = ("Measure every reservoir", "never with a screwdriver", "after a minute", "Prove the meter",
         LOCAL)  # fmt: skip
PLATE = ("that kill", "rated for the volts", LOCAL)
FUSE = ("competent person", "maker's marking", LOCAL)
# Name, kind of answer for its example, words of its cautions.
CAUTIONS = {
    "capacitors.esr": ("warn", "Discharge the part first"),
    "capacitors.leakage": ("warn", "it can kill", "near the limit"),
    "capacitors.reform": ("warn", "it can kill", "Idle for over 10 years", "mean stop", "can burst",
                          "after a minute", "does not limit the current", LOCAL),
    "capacitors.replacement": ("ok", "Discharge the old part", "safety class", "valve rectifier"),
    "capacitors.verdict": ("warn", "lift one end", "bulge", "judged by its class"),
    "cells.compare": ("ok", "Back up the memory", "Never heat a cell"),
    "cells.designation": ("ok", "never charge it", "keep from children"),
    "cells.hold_up": ("ok", "dump the memory", "through a diode"),
    "cells.isolation": ("ok", "Measure the current into the cell"),
    "cells.memory": ("ok", "Typical and maximum"),
    "cells.proof": ("ok", "leaks, bursts or burns", "power it, read"),
    "cells.replacement": ("ok", "low-battery threshold", "tape over", "gloves", "tabs only",
                          "keep from children"),
    "cells.retention": ("ok", "keep from children"),
    "cords.colours": ("warn", "mains on the chassis", "never trust the colour", LOCAL),
    "cords.coupler": ("warn", "same class", "Prove the earth", LOCAL),
    "cords.gauge": ("ok", "coiled up", "never thinner", LOCAL),
    "cords.marking": ("ok", "look for cracks", "earth core parts last", LOCAL),
    "cords.required": ("ok", "never trust the colour", "parts last", LOCAL),
    "discharge.dead": ("ok", "a dead meter reads dead", "each end to chassis", LOCAL),
    "discharge.plug": ("ok", "Do not touch the pins", "through a resistor"),
    "discharge.resistor": ("ok", *SHOCK),
    "discharge.stored_charge": ("warn", *SHOCK),
    "discharge.wait": ("ok", *SHOCK),
    "fuses.bands": ("ok", "neither volts nor breaking capacity"),
    "fuses.ceiling": ("ok", "not a proposal", "maker's marking", LOCAL),
    "fuses.for_load": ("ok", *FUSE),
    "fuses.gates": ("ok", "opens sooner"),
    "fuses.inrush": ("warn", "no reason for a larger", "maker's marking", "from memory"),
    "fuses.scale": ("ok", *FUSE),
    "fuses.ul_iec": ("warn", "6.615 A", "competent person", "maker's marking"),
    "fuses.write": ("ok", "neither volts nor breaking capacity"),
    "rails.expected": ("ok", *LIVE, "do not reach in"),
    "rails.regulator": ("warn", "may be live"),
    "rails.ripple": ("ok", "keeps its charge"),
    "rails.winding_rise": ("ok", "Unplugged and discharged"),
    "readings.category": ("ok", "must have the rating too", "your training"),
    "safety.earth_limit": ("ok", "one scheme only", "a value that jumps fails", LOCAL),
    "safety.first_power": ("ok", "hands off", "varistors", LOCAL),
    "safety.insulation_limit": ("ok", "500 V", "varistors", LOCAL),
    "safety.limits": ("ok", "one scheme only", "look at the paper", LOCAL),
    "safety.protection_class": ("warn", "test as class I", "One fault", LOCAL),
    "safety.touch_current": ("warn", "whoever touches", "does not stand in", LOCAL),
    "safety.touch_voltage": ("warn", "charged capacitor", "Prove the meter", LOCAL),
    "series_lamp.choose_lamp": ("ok", *LIVE),
    "series_lamp.gate": ("ok", *LIVE),
    "series_lamp.inrush": ("ok", "stays bright", *LIVE),
    "series_lamp.operating_point": ("ok", *LIVE),
    "series_lamp.ramp": ("ok", *LIVE, "rises with time", "brighter than at the step before"),
    "series_lamp.read_back": ("ok", *LIVE, "leaking reservoir"),
    "series_lamp.schedule": ("ok", *LIVE, "rises with time", "A hiss", "pulses"),
    "series_lamp.seen": ("ok", *LIVE, "fit an ammeter"),
    "valves.bias": ("ok", *PLATE, "cathode capacitor"),
    "valves.dissipation": ("ok", *PLATE, "A plate that glows", "rises with the line"),
    "valves.heater": ("warn", "high voltage", "with all valves in"),
    "voltage_parts.capacitor": ("ok", "leak and burst", "Discharge it", LOCAL),
    "voltage_parts.check": ("warn", "maker's instructions", LOCAL),
    "voltage_parts.neon": ("ok", "two in series", "proves nothing", LOCAL),
    "voltage_parts.rating_plate": ("ok", "plate readable", "maker's marking"),
    "voltage_parts.rear_outlet": ("ok", "never feed a class I", "load that fuse", LOCAL),
    "voltage_parts.switch": ("ok", "burnt", "in the line, not the neutral", LOCAL),
    "voltage_parts.thermal_link": ("warn", "goes on heating", "opens once", "Never bridge",
                                   "every section"),
    "voltage_parts.varistor": ("ok", "ages", "behind the fuse", LOCAL),
    "windings.arrangements": ("ok", "prove the phasing"),
    "windings.autotransformer": ("ok", "does not isolate", "made for mains", "wrong sense", LOCAL),
    "windings.for_supply": ("ok", "prove the phasing", "maker's instructions", LOCAL),
    "windings.phasing_band": ("ok", "never the mains"),
    "windings.resistance_band": ("ok", "discharged"),
    "windings.secondaries": ("warn", "under load", LOCAL),
    "windings.secondary_band": ("ok", "clip on dead"),
    "windings.window": ("warn", "case temperature", "run with the frequency"),
}  # fmt: skip


@pytest.mark.parametrize("name", CAUTIONS)
def test_an_example_keeps_its_kind_of_answer_and_every_caution(name):
    kind, *wanted = CAUTIONS[name]

    answer = work_out(name, calculators()[name].example)

    said = "\n".join(answer.working.cautions).lower()
    assert answer.outcome.value == kind
    assert [words for words in wanted if words.lower() not in said] == []
