"""A small plain-HTTP page that tells a phone how to trust the shop's certificate authority.

It has to be plain: before the phone trusts the authority, the shop's own address shows a warning.
It serves one page and one certificate, both public, and reads nothing else.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from functools import partial
from html import escape
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from string import Template

from cryptography import x509
from cryptography.hazmat.primitives.serialization import Encoding

from deploy.launch.tls import fingerprint, load

PAGES = Path(__file__).parent / "pages"
CERTIFICATE = "application/x-x509-ca-cert"  # the type both kinds of phone offer to install
SECONDS_PER_REQUEST = 10


def page(certificate: x509.Certificate, app_url: str, language: str) -> bytes:
    """The explanation in one language, with the fingerprint to compare."""
    words = Template((PAGES / f"trust.{language}.html").read_text(encoding="utf-8"))
    shown = {
        "app_url": escape(app_url),
        "host": escape(app_url.split("//")[1].split(":")[0]),
        "fingerprint": " ".join(fingerprint(certificate).split(":")),
        "until": f"{certificate.not_valid_after_utc:%Y-%m-%d}",
    }
    return words.substitute(shown).encode()


def language_of(accepted: str) -> str:
    """`de` if the phone names it before English, else `en`."""
    for choice in accepted.lower().split(","):
        language = choice.strip()[:2]
        if language in {"de", "en"}:
            return language
    return "en"


def answer_to(
    path: str, accepted: str, certificate: x509.Certificate, app_url: str
) -> tuple[int, Mapping[str, str], bytes]:
    """Status, headers and body. Whatever is neither the page nor the certificate is not there."""
    if path == "/authority.crt":
        return 200, _certificate_headers("crt"), certificate.public_bytes(Encoding.DER)
    if path == "/authority.pem":
        return 200, _certificate_headers("pem"), certificate.public_bytes(Encoding.PEM)
    if path == "/":
        body = page(certificate, app_url, language_of(accepted))
        return 200, {"Content-Type": "text/html; charset=utf-8"}, body
    return 404, {"Content-Type": "text/plain; charset=utf-8"}, b"Not here.\n"


def _certificate_headers(ending: str) -> Mapping[str, str]:
    kept_as = f'attachment; filename="lampledger-authority.{ending}"'
    return {"Content-Type": CERTIFICATE, "Content-Disposition": kept_as}


class TrustHandler(BaseHTTPRequestHandler):
    timeout = SECONDS_PER_REQUEST
    server_version, sys_version = "lampledger", ""

    def __init__(self, certificate: x509.Certificate, app_url: str, *rest: object) -> None:
        self._certificate, self._app_url = certificate, app_url
        super().__init__(*rest)  # type: ignore[arg-type]  # socketserver passes its own three

    def do_GET(self) -> None:
        status, headers, body = answer_to(
            self.path.partition("?")[0],
            self.headers.get("Accept-Language", ""),
            self._certificate,
            self._app_url,
        )
        self.send_response(status)
        for name, value in headers.items():
            self.send_header(name, value)
        self.send_header("Content-Length", str(len(body)))
        self.send_header("X-Content-Type-Options", "nosniff")
        self.send_header("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'")
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(body)

    do_HEAD = do_GET  # noqa: N815 - http.server names it


def main(folder: str, port: str, app_url: str) -> None:
    handler = partial(TrustHandler, load(Path(folder) / "authority.pem"), app_url)
    with ThreadingHTTPServer(("0.0.0.0", int(port)), handler) as server:  # noqa: S104 - for phones
        server.serve_forever()


if __name__ == "__main__":
    main(*sys.argv[1:])
