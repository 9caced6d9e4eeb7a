"""Days on papers."""

import calendar
import datetime as dt


def months_later(day: dt.date, months: int) -> dt.date:
    """The same day some months on; the month's last day where it has no such day."""
    years, month = divmod(day.month - 1 + months, 12)
    year, month = day.year + years, month + 1
    return dt.date(year, month, min(day.day, calendar.monthrange(year, month)[1]))
