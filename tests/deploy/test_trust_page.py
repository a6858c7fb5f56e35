"""The page about trust: two languages, one certificate, and nothing else of the folder."""

import io
import re
from datetime import UTC, datetime

import pytest
import segno
import zxingcpp
from cryptography import x509
from PIL import Image

from deploy.launch.tls import ensure_tls, fingerprint, load
from deploy.launch.trust_page import answer_to, language_of
from deploy.launch.welcome import qr

APP = "https://lampledger.local:8420"


@pytest.fixture
def certificate(tmp_path):
    now = datetime(2031, 5, 4, tzinfo=UTC)
    return load(ensure_tls(tmp_path / "lan", "lampledger.local", "192.168.7.20", now).authority)


@pytest.mark.parametrize(
    ("language", "word"), [("en-GB,en;q=0.9", "Before you do"), ("de-DE,de;q=0.9", "Vorher lesen")]
)
def test_the_page_explains_both_kinds_of_phone_and_shows_the_fingerprint(
    certificate, language, word
):
    status, headers, body = answer_to("/", language, certificate, APP)

    text = body.decode()
    assert status == 200
    assert headers["Content-Type"].startswith("text/html")
    assert word in text
    assert "<h2>Android</h2>" in text
    assert "<h2>iOS</h2>" in text
    assert fingerprint(certificate).split(":")[0] in text
    assert f"{APP}/app/" in text
    assert not re.search(r"\$\w", text)


def test_a_language_that_is_not_there_is_english():
    assert language_of("fr-FR,fr") == "en"
    assert language_of("fr, de;q=0.8, en;q=0.2") == "de"
    assert language_of("") == "en"


@pytest.mark.parametrize("path", ["/authority.crt", "/authority.pem"])
def test_the_certificate_comes_in_the_type_that_phones_offer_to_install(certificate, path):
    status, headers, body = answer_to(path, "", certificate, APP)

    read = (
        x509.load_der_x509_certificate if path.endswith("crt") else x509.load_pem_x509_certificate
    )
    assert (status, headers["Content-Type"]) == (200, "application/x-x509-ca-cert")
    assert read(body) == certificate


@pytest.mark.parametrize(
    "path", ["/authority.key", "/server.key", "/../lan/authority.key", "//etc/passwd", ""]
)
def test_nothing_else_is_served(certificate, path):
    assert answer_to(path, "", certificate, APP)[0] == 404


def test_the_code_in_the_terminal_can_be_scanned():
    address = "http://192.168.7.20:8421/"

    drawn = as_seen_on_a_dark_screen(qr(address))

    assert [found.text for found in zxingcpp.read_barcodes(drawn)] == [address]


def as_seen_on_a_dark_screen(text):
    """Each character is two half blocks; what is printed is light, the rest is dark."""
    halves = {" ": (0, 0), "▀": (255, 0), "▄": (0, 255), "█": (255, 255)}
    rows = [line for line in text.splitlines() if line]
    picture = Image.new("L", (max(map(len, rows)), 2 * len(rows)), 0)
    for y, row in enumerate(rows):
        for x, character in enumerate(row):
            for half in (0, 1):
                picture.putpixel((x, 2 * y + half), halves[character][half])
    return picture.resize((picture.width * 6, picture.height * 6), Image.Resampling.NEAREST)


def test_the_drawing_is_the_full_code_and_not_the_small_kind_phones_cannot_read():
    small, full = segno.make("T-1"), io.StringIO()
    segno.make("T-1", micro=False).terminal(full, compact=True)

    assert small.is_micro
    assert qr("T-1") == full.getvalue()
