"""`manage.py fitcheck SHEET.json`: the fit check of one pairing sheet on the command line."""

import json
import sys
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from parts.fit import SheetError, check_sheet
from parts.fit.answer.text import report_text
from parts.fit.bands import Verdict
from parts.fit.sheet import parse_sheet
from parts.trials.chance import with_chance
from parts.trials.would_go import with_ways

BAD_SHEET = 2


class Command(BaseCommand):
    help = "Check whether the parts of a fit sheet (JSON) fit. Exits with 2 for a bad sheet, else 0."
    requires_system_checks = []

    def add_arguments(self, parser):
        parser.add_argument("sheet", help="the fit sheet's file, or - for standard input")
        parser.add_argument("--json", action="store_true", help="print the whole report as JSON")
        parser.add_argument(
            "--no-chance", action="store_false", dest="chance", help="leave the draws of the chance out"
        )

    def handle(self, *, sheet: str, json: bool, chance: bool, **options: Any) -> None:
        try:
            report = with_ways(check_sheet(parse_sheet(_read(sheet))))
            report = with_chance(report) if chance else report
        except SheetError as error:
            raise CommandError(str(error), returncode=BAD_SHEET) from error
        self.stdout.write(_as_json(report) if json else report_text(report, self._paint))

    def _paint(self, verdict, text):
        styles = {
            Verdict.FITS: self.style.SUCCESS,
            Verdict.WORK: self.style.HTTP_INFO,
            Verdict.UNCLEAR: self.style.WARNING,
            Verdict.NO: self.style.ERROR,
        }
        return styles[verdict](text)


def _as_json(report):
    return json.dumps(report.as_dict(), indent=2, ensure_ascii=False, allow_nan=False)


def _read(name):
    try:
        return sys.stdin.read() if name == "-" else Path(name).read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        reason = error.strerror if isinstance(error, OSError) else "this is not a text file in UTF-8"
        raise CommandError(f"{name}: {reason}; name a fit sheet (JSON).", returncode=BAD_SHEET) from error
