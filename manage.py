#!/usr/bin/env python
"""Runs Dialside's management commands."""

import os
import sys

from django.core.management import execute_from_command_line


def main(arguments):
    """Run one; of trouble outside the program, such as a folder that cannot be written, say it in a sentence."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "workshop.settings")
    try:
        execute_from_command_line(arguments)
    except Exception as error:
        from workshop.outside_errors import sentence_for

        if sentence := sentence_for(error):
            sys.exit(f"Dialside stopped. {sentence}")
        raise


if __name__ == "__main__":
    os.umask(0o077)  # what a workshop writes is its owner's alone
    main(sys.argv)
