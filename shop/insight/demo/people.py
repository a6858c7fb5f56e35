"""Who works in the invented shop, and the shop itself."""

from __future__ import annotations

from datetime import datetime
from typing import NamedTuple

from shop.core.models import Person, Shop
from shop.insight.demo.fixed import id_at

NAME = "Radiohaus Ledger, Niederlampingen (invented)"


class Login(NamedTuple):
    username: str
    name: str
    role: str
    password: str
    language: str = "en"


LOGINS = (
    Login("anna", "Anna Lot", "tech", "anna-holds-the-iron"),
    Login("ben", "Ben Litze", "tech", "ben-reads-the-scope"),
    Login("dora", "Dora Tresen", "desk", "dora-knows-every-tag"),
    Login("max", "Max Prüfer", "manager", "max-counts-the-fuses"),
)


def open_shop() -> Shop:
    return Shop.objects.create(
        id=1,
        name=NAME,
        address="Sockelgasse 7\n00000 Niederlampingen",
        phone="+49 30 23125 000",  # a range kept free for fiction
        email="desk@niederlampingen.example",
        opening_words="Tuesday to Friday 10 to 18, Saturday 10 to 13",
        terms="Units not fetched within six months are disposed of after a reminder.",
        country="DE",
        currency="EUR",
        tax_percent=19,
        hour_price_minor=7200,
        diagnosis_fee_minor=3500,
        bench_volt=230,
        bench_hz=50,
        time_zone="Europe/Berlin",
    )


def hire_people(at: datetime) -> dict[str, Person]:
    """The four people, by username."""
    return {login.username: _hire(login, at) for login in LOGINS}


def _hire(login: Login, at: datetime) -> Person:
    person = Person(
        id=id_at(at, login.username),
        username=login.username,
        name=login.name,
        role=login.role,
        language=login.language,
        is_staff=login.role == "manager",
        is_superuser=login.role == "manager",
    )
    person.set_password(login.password)
    person.save()
    return person
