#!/usr/bin/env python
"""Standpoint's command line."""

import os
import sys

OF_THE_DEMO = {"demo", "shots"}


def main() -> None:
    """Run one command; the demo keeps a database of its own, apart from any real one."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shared.settings")
    if OF_THE_DEMO & set(sys.argv[1:2]):
        os.environ["STANDPOINT_DEMO"] = "1"
    from django.core.exceptions import ImproperlyConfigured
    from django.core.management import execute_from_command_line

    try:
        execute_from_command_line(sys.argv)
    except ImproperlyConfigured as refused:
        sys.exit(f"Standpoint does not start. {refused}")


if __name__ == "__main__":
    main()
