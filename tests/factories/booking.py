"""What the desk writes down, smallest valid form; and requirements that later apps vouch for."""

from shop.core.ids import new_id
from shop.repairs.booking_facts import Allowed, BookIn, CustomerWanted, UnitWanted


def booking(**changes) -> BookIn:
    """One booking-in of an invented preamplifier."""
    facts = {
        "id": new_id(),
        "customer": CustomerWanted(name="Rosa Feld", phone="0151 0000 123", email="r@mail.example"),
        "unit": UnitWanted(make="Testmake", model="Glimmer 2", serial="92-0417"),
        "complaint": "Hums and then goes quiet.",
        "set_for_volt": 230,
        "set_for_hz": 50,
        "use_at_country": "DE",
        "use_at_volt": 230,
        "use_at_hz": 50,
        "allowed": Allowed(diagnosis_fee_minor=3500, spending_limit_minor=12000),
    }
    return BookIn(**{**facts, **changes})


def booking_json(**changes) -> dict:
    """The same as the booking-in screen sends it."""
    body = {
        "id": str(new_id()),
        "customer": {"name": "Rosa Feld", "phone": "0151 0000 123", "email": "r@mail.example"},
        "unit": {"make": "Testmake", "model": "Glimmer 2", "serial": "92-0417"},
        "complaint": "Hums and then goes quiet.",
        "set_for_volt": None,
        "set_for_hz": None,
        "use_at_country": "DE",
        "use_at_volt": 230,
        "use_at_hz": 50,
        "pieces": [{"name": "mains cord"}],
        "allowed": {
            "diagnosis_fee_minor": 3500,
            "spending_limit_minor": 12000,
            "visible_changes": "ask",
            "sounds": "none",
        },
        "signature": None,
        "photos": [],
        "due_on": None,
    }
    return {**body, **changes}
