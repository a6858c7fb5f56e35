"""Jobs of the demo on what came in, on charge, on capacitors and on sheet metal, with readings."""

from __future__ import annotations

from typing import Final

from shop.insight.demo.plan import Done

# A valve amplifier before anybody plugs it in: a wrong fuse, a loose screw, a heat shield.
INSPECTED: Final = Done(
    "look-over",
    at_stage="looking_over",
    answers={
        "damage_seen": "scratched",
        "damage_photo": "Scratched lid, left rear corner",
        "turned": "rattles",
        "smell": "burnt",
        "fuse_found": "other",
        "photo_fuse": "F2.5A where T1A belongs",
        "plug_pins": "0.4",
        "earth": "0.22",
        "touch/r1/ohm": "14.2M",
        "touch/r2/ohm": "13.8M",
        "touch/r3/ohm": "11.5M",
        "live": "open",
        "dead-prove_before": "30.1",
        "dead-res_found.1": "3.1",
        "dead-res_dead.1": "2.9",
        "dead-res_again.1": "3.4",
        "dead-res_found.2": "2.2",
        "dead-res_dead.2": "2.1",
        "dead-prove_after": "30.1",
        "photo_inside": "Heat shield beside V5, screw below the board",
        "asbestos": "suspected",
        "inside": "burnt",
        "findings": "Screen resistor of V5 burnt. Loose screw found below the board and taken out. "
        "Grey board behind V5 may be asbestos: not touched.",
        "may_not_power": "not_yet",
    },
)  # fmt: skip

# A table radio with one side of the mains on its chassis.
LIVE: Final = Done(
    "look-over",
    at_stage="looking_over",
    answers={
        "smell": "burnt",
        "fuse_found": "bridged",
        "photo_fuse": "Wire soldered across the holder",
        "plug_pins": "1.1",
        "touch/r1/ohm": "0.9",
        "touch/r2/ohm": "186",
        "touch/r3/ohm": "0.9",
        "live": "live",
        "dead-res_found.1": "11.2",
        "dead-res_dead.1": "10.8",
        "dead-res_again.1": "12.4",
        "dead-tube": "not_there",
        "inside": "burnt",
        "findings": "Field coil open, its winding burnt. Chassis 0.9 ohm from one pin.",
        "may_not_power": "never",
    },
)  # fmt: skip

# The anode supply held its charge overnight: the bleeder is open.
DISCHARGED: Final = Done(
    "dead-working",
    answers={
        "plug_pins": "0.2",
        "prove_before": "30.2",
        "res_found.1": "212",
        "res_dead.1": ["61.5", "4.2"],
        "res_found.2": "198",
        "res_dead.2": "5.1",
        "res_found.3": "8.4",
        "res_dead.3": "1.2",
        "res_again.1": "21.7",
        "res_again.2": "19.3",
        "res_again.3": "1.6",
        "prove_after": "30.2",
    },
)  # fmt: skip

# Its two anode capacitors: one comes back, the other leaks more the longer it stands.
FORMED: Final = Done(
    "reform-capacitors",
    facts={
        "kind": "aluminium", "names": "C1, C2", "rated_farad": "47u", "rated_volt": "500",
        "idle": "y3", "measure": "modern",
    },
    answers={
        "dead-res_found.1": "3.8",
        "dead-res_dead.1": "3.7",
        "form.1/r1/start": "95u",
        "form.1/r1/end": "41u",
        "form.1/r2/start": "130u",
        "form.1/r2/end": "62u",
        "form.1/r3/start": "205u",
        "form.1/r3/end": "94u",
        "form.1/r4/start": "228u",
        "form.1/r4/end": "121u",
        "form.1/r5/start": "231u",
        "form.1/r5/end": "148u",
        "leakage.1": "148u",
        "form.2/r1/start": "240u",
        "form.2/r1/end": "180u",
        "form.2/r2/start": "390u",
        "form.2/r2/end": "232u",
        "form.2/r3/start": "620u",
        "form.2/r3/end": "420u",
        "form.2/r4/start": "810u",
        "form.2/r4/end": "690u",
        "form.2/r5/start": "960u",
        "form.2/r5/end": "940u",
        "leakage.2": "940u",
        "part_dead.1": "6.1",
        "part_dead.2": ["55", "2.3"],
        "farad.1": "51.2u",
        "esr.1": "1.9",
        "formed.2": "not_formed",
    },
)  # fmt: skip

_CHANNELS = (  # measured on the twelve channels: capacitance and ESR
    ("23.1u", "1.4"), ("22.8u", "1.6"), ("24.0u", "1.5"), ("22.2u", "1.9"), ("15.1u", "4.8"),
    ("23.5u", "1.3"), ("21.9u", "2.1"), ("23.0u", "1.7"), ("22.6u", "1.8"), ("24.4u", "1.2"),
    ("22.1u", "2.4"), ("23.3u", "1.6"),
)  # fmt: skip

# A mixer without phantom supply: its reservoir has dried out, and one coupling capacitor.
SURVEYED: Final = Done(
    "electrolytic-survey",
    facts={"tolerance": "p50"},
    answers={
        "found/r1/farad": "4610u",
        "found/r1/esr": "0.03",
        "found/r2/farad": "4550u",
        "found/r2/esr": "0.03",
        "found/r3/farad": "231u",
        "found/r3/esr": "2.9",
        "seen.3": "leaked",
        "decision.3": "replace",
        "new_farad.3": "476u",
        "new_esr.3": "0.11",
        "new_leak.3": "84u",
        **{
            f"found/r{row}/{column}": typed
            for row, readings in enumerate(_CHANNELS, 4)
            for column, typed in zip(("farad", "esr"), readings, strict=True)
        },
        "decision.8": "replace",
        "plus.8": "opposite",
        "new_farad.8": "22.7u",
        "new_esr.8": "1.1",
    },
)  # fmt: skip

# A rack unit that fell on its ear.
STRAIGHTENED: Final = Done(
    "dented-chassis",
    answers={
        "photo_found": "Left rack ear bent in, lid gapes",
        "flat_found": "4.2mm",
        "gap_sound": "0.4mm",
        "gap_found": "3.1mm",
        "clear_found": "6.8mm",
        "earth_found": "bent",
        "paint": "cracked",
        "flat_left": "0.5mm",
        "joints": "mended",
        "gap_left": "0.7mm",
        "clear_left": "7.4mm",
        "bond/r1/ohm": "0.08",
        "bond/r2/ohm": ["0.62", "0.09"],
        "bond_lid": "0.11",
        "bond_front": "0.1",
        "insulation": "180M",
    },
)  # fmt: skip
