"""The log file: what went wrong and where in the program, without what anybody typed."""

import logging
import logging.handlers
import traceback


class LogFile(logging.handlers.RotatingFileHandler):
    """The file by itself; on a full disk it goes without the line, whose trouble the page has told of."""

    def handleError(self, record):  # noqa: N802
        """Say nothing in the terminal: Python's own way prints where in the program it was."""


class Impersonal(logging.Formatter):
    """Tells time, level and place; of an exception its kind and lines, not its words, which may hold what was typed."""

    def __init__(self):
        super().__init__("%(asctime)s %(levelname)s %(name)s", "%Y-%m-%d %H:%M:%S")

    def format(self, record):
        line = super().format(logging.makeLogRecord({**record.__dict__, "exc_info": None, "exc_text": None}))
        request = getattr(record, "request", None)
        if request is not None:
            match = getattr(request, "resolver_match", None)
            line += f" {request.method} {match.view_name if match else 'unknown address'}"
        if status := getattr(record, "status_code", None):
            line += f" {status}"
        if record.name.startswith("workshop."):
            line += f" {record.getMessage()}"
        if record.exc_info and record.exc_info[1] is not None:
            line += f"\n  {record.exc_info[0].__name__}"
            for frame in traceback.extract_tb(record.exc_info[2])[-12:]:
                line += f"\n  {frame.filename}:{frame.lineno} {frame.name}"
        return line
