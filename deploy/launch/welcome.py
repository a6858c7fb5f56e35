"""What the terminal says once the shop answers."""

from __future__ import annotations

import io

import segno

from deploy.launch.books import demo_logins
from deploy.launch.options import Options
from deploy.launch.surroundings import Reach
from deploy.launch.tls import Tls, fingerprint, load

ONLINE_ONLY = (
    "Over plain HTTP a phone gets no camera and no queue (online-only mode): every entry needs the",
    "network, tags are typed or photographed, and passwords travel readable. For more, use --lan.",
)


def welcome(options: Options, reach: Reach, tls: Tls | None) -> str:
    lines = ["", f"The shop is open:  {reach.url}/app/", *_logins(options), ""]
    if tls:
        lines += _trust(options, tls)
    elif options.lan_plain:
        lines += ["On a phone in the same network: the same address.", *ONLINE_ONLY]
    else:
        lines += [
            "On a phone: end this with Ctrl+C, start it with --lan, and scan the code it prints.",
            "Without HTTPS (--lan-plain) a phone gets no camera and no queue: online-only mode.",
        ]
    return "\n".join([*lines, "", f"Logs: {options.data_dir / 'logs'}    End: Ctrl+C", ""])


def _logins(options: Options) -> list[str]:
    found = [line.split(maxsplit=2) for line in demo_logins(options.data_dir)]
    if not found:
        return [
            "No demo here. The first person of an empty shop:",
            f"  DATA_DIR={options.data_dir} .venv/bin/python -m shop add_person NAME"
            ' --name "Their Name" --role manager',
        ]
    rows = [f"  {user:<12} {password:<28} {role}" for user, password, role in found]
    return ["Demo logins (name, password, role):", *rows]


def _trust(options: Options, tls: Tls) -> list[str]:
    page = f"http://{tls.address}:{options.trust_port}/"
    return [
        "On a phone in the same network, once: scan this. The page explains, for Android and iOS,",
        f"how to trust this shop and what trusting means:  {page}",
        "",
        qr(page),
        "Compare the fingerprint (SHA-256) that the phone shows with this one:",
        f"  {fingerprint(load(tls.authority))}",
        f"The name {tls.host} stays: under another name a phone would not find its unsent entries.",
    ]


def qr(text: str) -> str:
    drawn = io.StringIO()
    segno.make(text, micro=False).terminal(drawn, compact=True)
    return drawn.getvalue()
