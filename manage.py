#!/usr/bin/env python
"""Standpoint's command line."""

import os
import sys


def main() -> None:
    """Run one command; the demo keeps a database of its own, apart from any real one."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shared.settings")
    if sys.argv[1:2] == ["demo"]:
        os.environ.setdefault("STANDPOINT_DEMO", "1")
    from django.core.management import execute_from_command_line

    execute_from_command_line(sys.argv)


if __name__ == "__main__":
    main()
