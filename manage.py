#!/usr/bin/env python
"""Runs Dialside's management commands."""

import os
import sys

from django.core.management import execute_from_command_line

if __name__ == "__main__":
    os.umask(0o077)  # what a workshop writes is its owner's alone
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "workshop.settings")
    execute_from_command_line(sys.argv)
