"""The fit check as a pure engine: pairing sheets in, reports out; standard library only.

from parts.fit import check_sheet
report = check_sheet(json.load(file))
"""

from parts.fit.answer.report import Report
from parts.fit.check import check_sheet
from parts.fit.errors import SheetError

__all__ = ["Report", "SheetError", "check_sheet"]
