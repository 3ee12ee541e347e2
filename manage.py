#!/usr/bin/env python3
"""The program's command line: `python manage.py help` lists what it does."""

import os
import sys
from importlib.util import find_spec

NEEDED = ("django", "environ", "celery")


def main() -> None:
    """Run the command named on the command line."""
    if missing := [name for name in NEEDED if find_spec(name) is None]:
        sys.exit(
            f"This Python ({sys.executable}) lacks {', '.join(missing)}.\n"
            "The first command in README.md, which ends in `manage.py demo`, makes .venv with all it needs.\n"
            "After that, start every command with .venv/bin/python manage.py"
        )
    from django.core.exceptions import ImproperlyConfigured
    from django.core.management import execute_from_command_line

    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "planning.settings")
    try:
        execute_from_command_line(sys.argv)
    except ImproperlyConfigured as problem:
        sys.exit(f"Settings: {problem}")


if __name__ == "__main__":
    main()
