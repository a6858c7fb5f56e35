"""What stands on a model sheet, as one shape: it checks what is sent and draws the editor's form.

Rows have the shapes that the calculators take, so that a template passes them unchanged.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any, Literal

import msgspec
from django.db.models import TextChoices
from msgspec import Meta

from shop.calc.fields import Metre, ProtectionClass, SquareMillimetre
from shop.calc.schemas import spoken, with_units
from shop.calc.voltage_parts.parts import Part
from shop.calc.windings.secondaries import Secondaries
from shop.calc.words import _
from shop.units.models import Feature, Hazard, SupplyKind
from shop.units.rows import (
    Cell,
    Channel,
    Control,
    Electrolytic,
    KnownFault,
    Picture,
    Primary,
    Rail,
    Reservoir,
    Source,
    Supply,
    Valve,
)

if TYPE_CHECKING:
    SupplyKey = str
    HazardKey = str
    FeatureKey = str
else:  # the models hold the choices; their labels join the schema in the reader's language
    SupplyKey = Literal[tuple(SupplyKind.values)]
    HazardKey = Literal[tuple(Hazard.values)]
    FeatureKey = Literal[tuple(Feature.values)]

Title = Annotated[str, Meta(min_length=1, max_length=60, pattern=r"\S")]
Year = Annotated[int, Meta(ge=1900, le=2200)]
Watt = Annotated[float, Meta(ge=0.01, le=20_000)]


class Sheet(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """All of a model sheet that people write."""

    make: Annotated[Title, Meta(title="Make")]
    model: Annotated[Title, Meta(title="Model")]
    kind: Annotated[Title, Meta(title="What it is", examples=["synthesiser"])]
    year_from: Annotated[Year | None, Meta(title="Made from")] = None
    year_to: Annotated[Year | None, Meta(title="Made until")] = None
    supply_kind: Annotated[SupplyKey, Meta(title="Supply")]
    protection_class: ProtectionClass = "I"
    two_wire: Annotated[bool, Meta(title="Cord of two wires, no earth")] = False
    hazards: Annotated[list[HazardKey], Meta(max_length=16, title="Hazards")] = []
    features: Annotated[
        list[FeatureKey],
        Meta(max_length=16, title="Inside", description="decides how it is powered up"),
    ] = []
    rated_watt: Annotated[Watt | None, Meta(title="Rated power", description="by the plate")] = None
    idle_watt: Annotated[
        Watt | None, Meta(title="Idle power", description="of a sound one, no signal")
    ] = None
    idle_watt_source: Annotated[Source, Meta(title="Idle power known from")] = ""
    cord_length_m: Annotated[Metre, Meta(title="Length of the cord")] = 1.8
    cord_mm2: Annotated[SquareMillimetre, Meta(title="Cross-section of the cord")] = 0.75
    primary: Annotated[Primary | None, Meta(title="Primary")] = None
    supplies: Annotated[list[Supply], Meta(max_length=16, title="Supplies it can be set for")] = []
    secondaries: Annotated[Secondaries, Meta(title="Secondaries")] = []
    rails: Annotated[list[Rail], Meta(max_length=24, title="Rails")] = []
    reservoirs: Annotated[list[Reservoir], Meta(max_length=24, title="Reservoirs")] = []
    mains_parts: Annotated[list[Part], Meta(max_length=40, title="Parts across the mains")] = []
    electrolytics: Annotated[list[Electrolytic], Meta(max_length=200, title="Electrolytics")] = []
    valves: Annotated[list[Valve], Meta(max_length=60, title="Valves")] = []
    channels: Annotated[list[Channel], Meta(max_length=120, title="Channels")] = []
    controls: Annotated[list[Control], Meta(max_length=200, title="Controls")] = []
    cell: Annotated[Cell | None, Meta(title="Backup cell")] = None
    reset_procedure: Annotated[
        str, Meta(max_length=4000, title="Reset", description="after the memory was without cell")
    ] = ""
    serial_rule: Annotated[
        str,
        Meta(
            max_length=80,
            title="How a serial number tells the year",
            description="fixed characters, and parts in braces: for 92… with the year in front "
            "{year2}{any}",
            examples=["{year2}{digits}"],
        ),
    ] = ""
    known_faults: Annotated[list[KnownFault], Meta(max_length=40, title="Known faults")] = []
    pictures: Annotated[list[Picture], Meta(max_length=24, title="Pictures")] = []
    note: Annotated[str, Meta(max_length=4000, title="Note")] = ""


FIELDS = tuple(Sheet.__struct_fields__)


def sheet_schema() -> dict[str, Any]:
    """JSON Schema of a sheet with the unit of every number, in the reader's language."""
    schema = with_units(msgspec.json.schema(Sheet))
    fields = schema["$defs"]["Sheet"]["properties"]
    fields["supply_kind"]["x-labels"] = _labels(SupplyKind)
    fields["hazards"]["items"]["x-labels"] = _labels(Hazard)
    fields["features"]["items"]["x-labels"] = _labels(Feature)
    worded: dict[str, Any] = spoken(schema, _)
    return worded


def _labels(choices: type[TextChoices]) -> dict[str, str]:
    return {one.value: str(one.label) for one in choices}


def title_at(schema: dict[str, Any], path: str) -> str:
    """What a field is called, with what it is inside of: "Backup cell, Lowest drain"."""
    shape, titles = schema["$defs"]["Sheet"], []
    for name in path.split("."):
        field = shape.get("properties", {}).get(name)
        if field is None:  # the number of a row
            break
        titles.append(field.get("title", name))
        shape = _inside(schema, field)
    return ", ".join(titles)


def _inside(schema: dict[str, Any], field: dict[str, Any]) -> dict[str, Any]:
    """The shape that a field leads to, past "or nothing" and a list."""
    shapes = [field, *field.get("anyOf", []), field.get("items", {})]
    names = [shape["$ref"].rpartition("/")[2] for shape in shapes if "$ref" in shape]
    found: dict[str, Any] = schema["$defs"][names[0]] if names else {}
    return found
