"""Answers for the shop's `.local` name, so that phones on the local network find it.

Multicast DNS, RFC 6762: questions come to 224.0.0.251, port 5353. Only questions for our one name
are answered: with the address, and with a record that says there is no other kind of address.
"""

from __future__ import annotations

import socket
import struct
import sys
from dataclasses import dataclass

GROUP, PORT = "224.0.0.251", 5353
TYPE_A, TYPE_NSEC, TYPE_ANY, CLASS_IN = 1, 47, 255, 1
FLUSH = 0x8000  # RFC 6762, section 10.2: this answer replaces what was remembered
TTL_SECONDS = 120  # section 10: for records that name a host's address
LEGACY_TTL_SECONDS = 10  # section 6.7: for askers that do not speak multicast DNS


@dataclass(frozen=True)
class Question:
    name: str
    kind: int


def questions_in(packet: bytes) -> list[Question]:
    """The questions of a query; an answer or a packet that is cut short holds none."""
    try:
        _, flags, count = struct.unpack_from(">HHH", packet)
        if flags & 0x8000:
            return []
        found, at = [], 12
        for _ in range(min(count, 64)):
            name, at = _name_at(packet, at)
            kind, _ = struct.unpack_from(">HH", packet, at)
            found.append(Question(name, kind))
            at += 4
    except (struct.error, IndexError, UnicodeDecodeError):
        return []
    return found


def _name_at(packet: bytes, at: int) -> tuple[str, int]:
    """A name and where it ends; one pointer back is followed (RFC 1035, section 4.1.4)."""
    labels: list[str] = []
    end = 0
    for _ in range(128):  # bounds what a packet that points in a circle can cost
        length = packet[at]
        if length >= 0xC0:
            end = end or at + 2
            at = (length & 0x3F) << 8 | packet[at + 1]
        elif length == 0:
            return ".".join(labels).lower(), end or at + 1
        else:
            labels.append(packet[at + 1 : at + 1 + length].decode())
            at += 1 + length
    raise IndexError("a name without an end")


def answer_for(packet: bytes, host: str, address: str, *, legacy: bool) -> bytes | None:
    """The packet to send, or None if nobody asked for us."""
    asked = [question for question in questions_in(packet) if question.name == host]
    if not asked:
        return None
    ttl, kind_of_class = (
        (LEGACY_TTL_SECONDS, CLASS_IN) if legacy else (TTL_SECONDS, CLASS_IN | FLUSH)
    )
    name = _encoded(host)
    own = _record(name, TYPE_A, kind_of_class, ttl, socket.inet_aton(address))
    only_a = _record(name, TYPE_NSEC, kind_of_class, ttl, name + b"\x00\x01\x40")
    wants_a = any(question.kind in {TYPE_A, TYPE_ANY} for question in asked)
    records = (own, only_a) if wants_a else (only_a, own)
    echo = name + struct.pack(">HH", asked[0].kind, CLASS_IN) if legacy else b""
    number = packet[:2] if legacy else b"\x00\x00"
    return (
        number
        + struct.pack(">HHHHH", 0x8400, 1 if legacy else 0, 1, 0, 1)
        + echo
        + b"".join(records)
    )


def _record(name: bytes, kind: int, kind_of_class: int, ttl: int, content: bytes) -> bytes:
    return name + struct.pack(">HHIH", kind, kind_of_class, ttl, len(content)) + content


def _encoded(host: str) -> bytes:
    return b"".join(bytes([len(part)]) + part.encode() for part in host.split(".")) + b"\x00"


def listening(address: str) -> socket.socket:
    """A socket in the group; it shares the port with other programs that answer for other names."""
    ear = socket.socket(socket.AF_INET, socket.SOCK_DGRAM)
    ear.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    ear.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEPORT, 1)
    ear.bind(("", PORT))
    member = socket.inet_aton(GROUP) + socket.inet_aton(address)
    ear.setsockopt(socket.IPPROTO_IP, socket.IP_ADD_MEMBERSHIP, member)
    ear.setsockopt(socket.IPPROTO_IP, socket.IP_MULTICAST_IF, socket.inet_aton(address))
    ear.setsockopt(socket.IPPROTO_IP, socket.IP_MULTICAST_TTL, 255)
    return ear


def main(host: str, address: str) -> None:
    with listening(address) as ear:
        while True:
            packet, asker = ear.recvfrom(9000)
            legacy = asker[1] != PORT
            reply = answer_for(packet, host, address, legacy=legacy)
            if reply:
                ear.sendto(reply, asker if legacy else (GROUP, PORT))


if __name__ == "__main__":
    main(*sys.argv[1:])
