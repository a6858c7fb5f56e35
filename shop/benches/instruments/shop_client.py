"""The way from a PC at a bench to the shop's server: signed in, enrolled, over HTTP or HTTPS.

The PC is a device of its own: the manager withdraws it like a phone. Its cookies stand in a file
that only its owner may read.
"""

from __future__ import annotations

import json
import os
import ssl
import urllib.error
import urllib.request
from http.client import HTTPException
from http.cookies import CookieError, SimpleCookie
from pathlib import Path
from typing import Any, Final
from urllib.parse import urlsplit

import msgspec

from shop.calc.words import _
from shop.core.ids import new_id

PATIENCE_SECONDS: Final = 10.0
MOST_BYTES: Final = 1_000_000
PRIVATE: Final = 0o600
CSRF_COOKIES: Final = ("__Host-csrftoken", "csrftoken")


class ShopTrouble(Exception):
    """The shop said no, or what it said was no answer. The text is for people."""

    def __init__(self, text: str, code: str = "") -> None:
        super().__init__(text)
        self.code = code


class ShopAway(ShopTrouble):
    """No answer came. Another try may do."""


class SignInNeeded(ShopTrouble):
    """Nobody is signed in on this PC, or no longer."""


class Kept(msgspec.Struct):
    """What stays on this PC from one call to the next."""

    shop: str  # its address
    device: str
    cookies: dict[str, str]


class SessionFile:
    """The file with the session, mode 600."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def read(self, shop: str) -> Kept:
        """What was kept for this address; a fresh device for another one, or a broken file."""
        try:
            kept = msgspec.json.decode(self.path.read_bytes(), type=Kept)
        except (OSError, msgspec.DecodeError):
            return Kept(shop, str(new_id()), {})
        return kept if kept.shop == shop else Kept(shop, str(new_id()), {})

    def write(self, kept: Kept) -> None:
        """Whole or not at all, and never readable by others."""
        self.path.parent.mkdir(parents=True, exist_ok=True)
        fresh = self.path.with_name(f"{self.path.name}.{os.getpid()}")
        handle = os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, PRIVATE)
        with os.fdopen(handle, "wb") as file:
            file.write(msgspec.json.encode(kept))
        fresh.replace(self.path)


def default_session_file() -> Path:
    """By the XDG base directory rules: a session is state of one person on one machine."""
    state = os.environ.get("XDG_STATE_HOME") or Path.home() / ".local" / "state"
    return Path(state) / "lampledger" / "meter-session.json"


class _NoRedirect(urllib.request.HTTPRedirectHandler):
    """A password or a reading is not carried on to another address."""

    def redirect_request(self, *_args: Any, **_named: Any) -> None:
        return None


class ShopClient:
    """Calls the shop's API as one device. `authority`: a file with its certificate authority."""

    def __init__(self, shop: str, file: SessionFile, authority: Path | None = None) -> None:
        self.shop = _origin(shop)
        self._file = file
        self._kept = file.read(self.shop)
        trust = urllib.request.HTTPSHandler(context=_trusting(authority))
        self._opener = urllib.request.build_opener(trust, _NoRedirect)

    def sign_in(self, username: str, password: str, device_name: str) -> str:
        """Sign in and enrol this PC; answers with the person's name. Raises ShopTrouble."""
        self.get("csrf/")
        device = {"id": self._kept.device, "name": device_name}
        body = {"username": username, "password": password, "device": device}
        return str(self.post("session/", body)["name"])

    def who(self) -> str | None:
        """The name of who is signed in, or None. Raises ShopTrouble."""
        try:
            return str(self.get("session/")["name"])
        except SignInNeeded:
            return None

    def sign_out(self) -> None:
        """Ends the session; the PC stays enrolled. Raises ShopTrouble."""
        self._call("DELETE", "session/", None)

    def get(self, path: str) -> Any:
        """Raises ShopAway, SignInNeeded, ShopTrouble."""
        return self._call("GET", path, None)

    def post(self, path: str, body: dict[str, Any]) -> Any:
        """Raises as `get`."""
        return self._call("POST", path, body)

    def _call(self, method: str, path: str, body: dict[str, Any] | None) -> Any:
        request = urllib.request.Request(  # noqa: S310 - _origin lets only http and https by
            f"{self.shop}/api/v1/{path}",
            data=None if body is None else json.dumps(body).encode(),
            headers=self._headers(),
            method=method,
        )
        try:
            with self._opener.open(request, timeout=PATIENCE_SECONDS) as answer:
                return self._take(answer)
        except urllib.error.HTTPError as refusal:
            with refusal:
                raise self._refused(refusal) from None
        except (OSError, HTTPException) as error:
            raise ShopAway(_away(self.shop, error)) from error

    def _headers(self) -> dict[str, str]:
        cookies = self._kept.cookies
        token = next((cookies[name] for name in CSRF_COOKIES if name in cookies), "")
        return {
            "Accept": "application/json",
            "Content-Type": "application/json",
            "Cookie": "; ".join(f"{name}={value}" for name, value in cookies.items()),
            # Over HTTPS Django asks where a write comes from, beside its token.
            "Referer": f"{self.shop}/",
            "X-CSRFToken": token,
        }

    def _take(self, answer: Any) -> Any:
        self._keep_cookies(answer.headers.get_all("Set-Cookie") or [])
        raw = answer.read(MOST_BYTES)
        try:
            return json.loads(raw) if raw else None
        except ValueError as error:
            raise ShopTrouble(
                _("What answers at {shop} is not the shop.", shop=self.shop)
            ) from error

    def _keep_cookies(self, set_cookies: list[str]) -> None:
        if not set_cookies:
            return
        for line in set_cookies:
            try:
                said = SimpleCookie(line)
            except CookieError:
                continue
            for name, morsel in said.items():
                self._kept.cookies[name] = morsel.value
                if morsel["max-age"] == "0" or not morsel.value:
                    del self._kept.cookies[name]
        self._file.write(self._kept)

    def _refused(self, refusal: urllib.error.HTTPError) -> ShopTrouble:
        self._keep_cookies(refusal.headers.get_all("Set-Cookie") or [])
        if 300 <= refusal.code < 400:
            where = refusal.headers.get("Location", "")
            return ShopTrouble(_("The shop is at another address: {where}", where=where))
        code, said = _said_no(refusal)
        if refusal.code == 401 and code == "not_signed_in":
            return SignInNeeded(_("Nobody is signed in on this PC."), code)
        if refusal.code in {429, 502, 503, 504}:
            return ShopAway(said, code)
        return ShopTrouble(said, code)


def _origin(shop: str) -> str:
    """`https://host[:port]` of an address; a bare host is taken as HTTPS. Raises ShopTrouble."""
    parts = urlsplit(shop if "://" in shop else f"https://{shop}")
    if parts.scheme not in {"http", "https"} or not parts.hostname:
        raise ShopTrouble(_("“{shop}” is no address of a shop: write https://…", shop=shop))
    return f"{parts.scheme}://{parts.netloc.rpartition('@')[2]}"


def _trusting(authority: Path | None) -> ssl.SSLContext:
    """Trusts what this PC trusts, and the shop's own authority. Raises ShopTrouble."""
    context = ssl.create_default_context()
    if authority is not None:
        try:
            context.load_verify_locations(cafile=authority)
        except (OSError, ssl.SSLError) as error:
            sentence = _("{file} holds no certificate authority.", file=authority)
            raise ShopTrouble(sentence) from error
    return context


def _away(shop: str, error: Exception) -> str:
    reason = getattr(error, "reason", error)
    if isinstance(reason, ssl.SSLCertVerificationError):
        return _(
            "This PC does not trust the certificate of {shop}: give its authority with --ca.",
            shop=shop,
        )
    return _("{shop} does not answer.", shop=shop)


def _said_no(refusal: urllib.error.HTTPError) -> tuple[str, str]:
    """(code, sentence) of problem+json (RFC 9457), or of whatever came."""
    try:
        said = json.loads(refusal.read(MOST_BYTES))
        return str(said["code"]), str(said["detail"])
    except (ValueError, KeyError, TypeError, OSError):
        return "", _("The shop answered with {status}.", status=refusal.code)
