"""The commands of the shop's processes."""

from __future__ import annotations

from deploy.launch.options import Options
from deploy.launch.places import VENV_PYTHON
from deploy.launch.supervisor import Child
from deploy.launch.tls import Tls


def children_of(options: Options, tls: Tls | None) -> list[Child]:
    """Web, worker and beat; with HTTPS also the page about trust and the answer to the name.

    Beat is its own process: one embedded in the worker outlives a killed worker and ticks twice.
    """
    python, logs = str(VENV_PYTHON), options.data_dir / "logs"
    celery = [python, "-m", "celery", "-A", "shop.celery:app"]
    commands = {
        "web": web_command(options, tls),
        "worker": [*celery, "worker", "--concurrency=2", "--loglevel=WARNING", "--without-mingle",
                   "--without-gossip"],
        "beat": [*celery, "beat", "--loglevel=WARNING", "--pidfile=",
                 f"--schedule={options.data_dir / 'beat-schedule'}"],
    }  # fmt: skip
    if tls:
        port = str(options.trust_port)
        commands["trust page"] = [python, "-m", "deploy.launch.trust_page", str(tls.folder), port,
                                  f"https://{tls.host}:{options.port}"]  # fmt: skip
        commands["name"] = [python, "-m", "deploy.launch.name_answer", tls.host, tls.address]
    return [
        Child(name, command, logs / f"{name.replace(' ', '-')}.log")
        for name, command in commands.items()
        if name != "name" or command[3].endswith(".local")
    ]


def web_command(options: Options, tls: Tls | None) -> list[str]:
    secure = [] if tls is None else [
        "--ssl-certificate", str(tls.chain), "--ssl-keyfile", str(tls.key),
        "--ssl-protocol-min", "tls1.2",
    ]  # fmt: skip
    return [
        str(VENV_PYTHON), "-m", "granian", "--interface", "wsgi", "--host", options.listen_on,
        "--port", str(options.port), "--workers", "2", "--blocking-threads", "2", "--no-ws",
        "--respawn-failed-workers", "--workers-kill-timeout", "5", "--log-level", "warning",
        *secure, "shop.wsgi:application",
    ]  # fmt: skip
