"""What a path is called when it has to be said that it is not known."""

from __future__ import annotations

from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop

_TITLES = {
    "sheet": gettext_noop("the model sheet of this unit"),
    "sheet.idle_watt": gettext_noop("idle power of this model"),
    "sheet.rated_watt": gettext_noop("rated power of this model"),
    "sheet.supply_kind": gettext_noop("kind of supply of this model"),
    "sheet.primary": gettext_noop("primary windings of this model"),
    "sheet.primary.sections": gettext_noop("primary windings of this model"),
    "sheet.at_set_for.fuse": gettext_noop("fuse for the supply it is set for"),
    "sheet.at_use_at.fuse": gettext_noop("maker's fuse for the supply where it will be used"),
    "sheet.reservoirs": gettext_noop("reservoir capacitors of this model"),
    "sheet.rails": gettext_noop("supply rails of this model"),
    "sheet.cell": gettext_noop("backup cell of this model"),
    "sheet.cord_length_m": gettext_noop("length of the mains cord"),
    "sheet.cord_mm2": gettext_noop("cross-section of the mains cord"),
    "supply.set_for.volt": gettext_noop("the voltage it is set for"),
    "supply.set_for.hz": gettext_noop("the frequency it is set for"),
    "bench.lamps": gettext_noop("lamps of the bench"),
}


def title_of(path: str) -> str:
    """A path in words a tech knows; for a path without words of its own, its last names."""
    if path in _TITLES:
        return _(_TITLES[path])
    names = [name for name in path.split(".") if name not in ("value", "work", "asked", "sheet")]
    return " ".join(names[-2:]).replace("_", " ")


def not_known(path: str) -> str:
    return _("Not known: %s.") % title_of(path)
