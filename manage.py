#!/usr/bin/env python3
"""Garlandry's commands. `--demo` anywhere on the line works on the demo studio, never on yours."""

import os
import sys


def main(argv: list[str]) -> None:
    """Run one command; the demo has its own folder, so it is chosen before the settings are read."""
    if "--demo" in argv or argv[1:2] == ["demo"]:
        os.environ["GARLANDRY_DEMO"] = "1"
        argv = [word for word in argv if word != "--demo"]
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "studio.settings")
    try:
        from django.core.management import execute_from_command_line
    except ImportError as error:
        raise SystemExit(
            "Django is not installed in this Python. Run `bash studio/install`, then use .venv/bin/python."
        ) from error
    execute_from_command_line(argv)


if __name__ == "__main__":
    main(sys.argv)
