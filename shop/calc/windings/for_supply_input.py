"""What is asked when a primary is set for a supply."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import Hertz, MainsVolt, Name, VoltAmpere, WindingVolt
from shop.calc.windings.arrangements import MainsPair
from shop.calc.windings.flux import PlateHertz
from shop.calc.windings.secondaries import Secondaries
from shop.calc.windings.sections import Link, Sections


class SheetSetting(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One setting from the model sheet: the supply it is for and its links."""

    name: Annotated[Name, Meta(title="Setting")]
    supply_volt: Annotated[MainsVolt, Meta(title="Supply")]
    links: Annotated[
        list[Link], Meta(max_length=24, title="Links", description="terminal pairs to join")
    ]
    line_terminals: Annotated[MainsPair, Meta(title="Mains on")]


class ForSupplyIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The primary, the plate, the links as found, and the target supply."""

    sections: Annotated[Sections, Meta(title="Primary sections")]
    target_volt: Annotated[MainsVolt, Meta(title="Supply to set for", description="nominal")]
    target_hz: Annotated[Hertz, Meta(title="Frequency of that supply")]
    plate_hz: Annotated[
        PlateHertz, Meta(title="Frequencies on the plate", description="the lowest one counts")
    ]
    plate_volt: Annotated[
        WindingVolt | None,
        Meta(
            title="Volts on the plate",
            description="plate's volts for the section sum given, if they differ",
        ),
    ] = None
    measured_volt: Annotated[
        MainsVolt | None,
        Meta(title="Line as measured", description="the nominal volts if left out"),
    ] = None
    secondaries: Annotated[
        Secondaries, Meta(title="Secondaries", description="none if left out; heaters are judged")
    ] = []
    rated_va: Annotated[
        VoltAmpere | None,
        Meta(title="Rated power", description="as on the plate; judges a part of the primary"),
    ] = None
    model_sheet_settings: Annotated[
        list[SheetSetting],
        Meta(max_length=16, title="Settings of the model sheet", description="tried first"),
    ] = []
    links_now: Annotated[
        list[Link],
        Meta(max_length=24, title="Links as found", description="terminal pairs joined now"),
    ] = []
