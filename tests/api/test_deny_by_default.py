"""Nothing is open that does not say so: every address of the API, walked through the resolver."""

from uuid import UUID

import pytest
from django.urls import URLPattern, URLResolver, get_resolver

from api.permissions import Nobody

pytestmark = pytest.mark.django_db
SAMPLES = {
    "uuid": str(UUID(int=0)),
    "sha256": "0" * 64,
    "str": "x",
    "path": "x",
    "int": "1",
    "slug": "x",
}
METHODS = ("get", "post", "put", "patch", "delete")
# Signing in cannot require having signed in; the schema tells how to ask and nothing else.
OPEN = {
    ("get", "/api/v1/csrf/"),
    ("post", "/api/v1/session/"),
    ("get", "/api/v1/session/pin/"),  # names, to a phone that shows its secret
    ("post", "/api/v1/session/pin/"),
    ("get", "/api/v1/schema/"),
    ("get", "/api/v1/schemas/x/"),  # the published schemas of template and pack: no data of a shop
}


def addresses(resolver, prefix="/"):
    for entry in resolver.url_patterns:
        if isinstance(entry, URLResolver):
            yield from addresses(entry, prefix + sample(entry.pattern))
        elif isinstance(entry, URLPattern):
            yield prefix + sample(entry.pattern)


def sample(pattern):
    """An address that fits a pattern."""
    route = str(pattern)
    for name in pattern.converters:
        kind = next((kind for kind in SAMPLES if f"<{kind}:{name}>" in route), "str")
        route = route.replace(f"<{kind}:{name}>", SAMPLES[kind]).replace(f"<{name}>", "x")
    return route.lstrip("^").rstrip("$")


def api_addresses():
    return sorted({a for a in addresses(get_resolver()) if a.startswith("/api/")})


def calls():
    return [
        (method, address)
        for address in api_addresses()
        for method in METHODS
        if (method, address) not in OPEN
    ]


def test_the_walk_finds_the_addresses():
    found = api_addresses()

    assert f"/api/v1/repairs/{SAMPLES['uuid']}/hand-back/" in found
    assert f"/api/v1/photos/{SAMPLES['sha256']}/" in found
    assert len(found) > 20


@pytest.mark.parametrize("who", ["nobody", "stranger"])
def test_who_does_not_work_here_is_refused_everywhere(api, stranger, who):
    client, let_in = api(stranger if who == "stranger" else None), []

    for method, address in calls():
        status = getattr(client, method)(address, {}, format="json").status_code
        if status not in {401, 403}:
            let_in.append((method, address, status))

    # A method that an address does not have may be answered with 405: nothing was done.
    assert [call for call in let_in if call[2] != 405] == []


def test_every_view_names_its_permission():
    unnamed = []
    for name, view in views(get_resolver()):
        cls = getattr(view, "cls", None) or getattr(view, "view_class", None)
        if not hasattr(cls, "permission_classes"):
            continue
        own = cls.permission_classes != [Nobody]
        if not own and cls.get_permissions is super(cls, cls).get_permissions:
            unnamed.append(name)

    assert unnamed == []


def views(resolver, prefix="/"):
    for entry in resolver.url_patterns:
        if isinstance(entry, URLResolver):
            yield from views(entry, prefix + str(entry.pattern))
        else:
            yield prefix + str(entry.pattern), entry.callback


def test_no_address_takes_a_format_suffix():
    assert not [a for a in api_addresses() if "format" in a or a.endswith(".json")]
