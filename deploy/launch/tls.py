"""HTTPS on the local network: an authority that can vouch for one name only, and its certificate.

A phone that trusts an authority trusts whatever it signs. So this one is limited by name
constraints (RFC 5280, section 4.2.1.10, critical) to the shop's own name and the address it had
when it was made. The authority is made once, since every phone has to be told about a new one; only
the leaf is renewed.
"""

from __future__ import annotations

import ipaddress
import os
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.ec import EllipticCurvePrivateKey
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from deploy.launch.problems import CannotStart

AUTHORITY_LIFE = timedelta(days=3650)
LEAF_LIFE = timedelta(days=397)  # below the 825 days that phones accept from an added authority
RENEW_BEFORE = timedelta(days=30)
CLOCK_SLACK = timedelta(days=1)  # a phone whose clock runs behind still accepts today's certificate
PEM = serialization.Encoding.PEM


@dataclass(frozen=True)
class Tls:
    """Where the certificates lie, and for whom they stand."""

    folder: Path
    host: str
    address: str

    @property
    def authority(self) -> Path:
        return self.folder / "authority.pem"

    @property
    def authority_key(self) -> Path:
        return self.folder / "authority.key"

    @property
    def chain(self) -> Path:
        return self.folder / "server-chain.pem"

    @property
    def key(self) -> Path:
        return self.folder / "server.key"


def ensure_tls(folder: Path, host: str, address: str, now: datetime | None = None) -> Tls:
    """Authority and leaf, made or renewed if due. Raises CannotStart if the authority ran out."""
    now = now or datetime.now(UTC)
    tls = Tls(folder, host, address)
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    if not (tls.authority.exists() and tls.authority_key.exists()):
        make_authority(tls, now)
    if load(tls.authority).not_valid_after_utc - now < RENEW_BEFORE:
        raise CannotStart(f"the shop's certificate authority has run out; move {folder} away to "
                          "begin a new one, then trust it on every phone.")  # fmt: skip
    if leaf_is_due(tls, now):
        make_leaf(tls, now)
    return tls


def leaf_is_due(tls: Tls, now: datetime) -> bool:
    """True if there is none, it ends within 30 days, or the machine's address changed."""
    if not (tls.chain.exists() and tls.key.exists()):
        return True
    leaf = load(tls.chain)
    names = leaf.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    return leaf.not_valid_after_utc - now < RENEW_BEFORE or list(names) != names_for(tls)


def names_for(tls: Tls) -> list[x509.GeneralName]:
    """The name and, as long as the authority may vouch for it, the address.

    One name outside the constraints would spoil the whole certificate, and a new authority would
    have to be trusted anew on every phone; so an address that changed is left out.
    """
    host = x509.DNSName(tls.host)
    address = ipaddress.IPv4Address(tls.address)
    if address in _permitted_network(tls):
        return [host, x509.IPAddress(address)]
    return [host]


def _permitted_network(tls: Tls) -> ipaddress.IPv4Network:
    constraints = load(tls.authority).extensions.get_extension_for_class(x509.NameConstraints).value
    permitted = [name.value for name in constraints.permitted_subtrees or []]
    return next(value for value in permitted if isinstance(value, ipaddress.IPv4Network))


def make_authority(tls: Tls, now: datetime) -> None:
    key = ec.generate_private_key(ec.SECP256R1())
    name = _named(f"Authority for {tls.host} only, made {now:%Y-%m-%d}")
    network = ipaddress.IPv4Network(tls.address)
    constraints = x509.NameConstraints([x509.DNSName(tls.host), x509.IPAddress(network)], None)
    certificate = (
        _begun(name, name, key, now, now + AUTHORITY_LIFE)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs_certificates=True), critical=True)
        .add_extension(constraints, critical=True)
        .sign(key, hashes.SHA256())
    )
    _write_key(tls.authority_key, key)
    tls.authority.write_bytes(certificate.public_bytes(PEM))


def make_leaf(tls: Tls, now: datetime) -> None:
    """A new key and certificate for the server, signed by the kept authority."""
    authority = load(tls.authority)
    signer = serialization.load_pem_private_key(tls.authority_key.read_bytes(), password=None)
    assert isinstance(signer, EllipticCurvePrivateKey)  # noqa: S101 - make_authority wrote it
    key = ec.generate_private_key(ec.SECP256R1())
    until = min(now + LEAF_LIFE, authority.not_valid_after_utc)
    issuer = x509.AuthorityKeyIdentifier.from_issuer_public_key(signer.public_key())
    server = x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH])
    certificate = (
        _begun(_named(tls.host), authority.subject, key, now, until)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs_certificates=False), critical=True)
        .add_extension(server, critical=False)
        .add_extension(x509.SubjectAlternativeName(names_for(tls)), critical=False)
        .add_extension(issuer, critical=False)
        .sign(signer, hashes.SHA256())
    )
    _write_key(tls.key, key)
    tls.chain.write_bytes(certificate.public_bytes(PEM) + authority.public_bytes(PEM))


def load(path: Path) -> x509.Certificate:
    """The first certificate of a PEM file."""
    return x509.load_pem_x509_certificate(path.read_bytes())


def fingerprint(certificate: x509.Certificate) -> str:
    """SHA-256 as phones show it: pairs of hex digits with colons."""
    return certificate.fingerprint(hashes.SHA256()).hex(":").upper()


def _begun(
    subject: x509.Name,
    issuer: x509.Name,
    key: EllipticCurvePrivateKey,
    now: datetime,
    until: datetime,
) -> x509.CertificateBuilder:
    return (
        x509.CertificateBuilder(subject_name=subject, issuer_name=issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - CLOCK_SLACK)
        .not_valid_after(until)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
    )


def _usage(*, signs_certificates: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs_certificates,
        key_cert_sign=signs_certificates,
        crl_sign=signs_certificates,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        encipher_only=False,
        decipher_only=False,
    )


def _named(words: str) -> x509.Name:
    # X.520 allows 64 characters for a common name.
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, words[:64])])


def _write_key(path: Path, key: EllipticCurvePrivateKey) -> None:
    """PKCS#8, the only form granian reads; never readable by others, not even for a moment."""
    path.unlink(missing_ok=True)
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "wb") as file:
        file.write(
            key.private_bytes(PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption())
        )
