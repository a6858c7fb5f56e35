"""`python -m shop <command>`: stands in for manage.py; `calc` and `meter` need no database."""

from __future__ import annotations

import os
import sys


def main() -> None:
    if len(sys.argv) > 1 and sys.argv[1] == "calc":
        from shop.calc.command_line import run

        sys.exit(run(sys.argv[2:]))
    if len(sys.argv) > 1 and sys.argv[1] == "meter":
        from shop.benches.instruments.command_line import main as run_meter

        sys.exit(run_meter(sys.argv[2:]))
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")
    from django.core.management import execute_from_command_line

    execute_from_command_line(["python -m shop", *sys.argv[1:]])


if __name__ == "__main__":
    main()
