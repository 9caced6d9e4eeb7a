"""Troubles from outside the program, in words: a full disk, a folder that cannot be written, a damaged database."""

import errno
import sqlite3

from django.db import DatabaseError
from django.shortcuts import render

_BY_NUMBER = {
    errno.ENOSPC: "The disk is full. Free some space.",
    errno.EDQUOT: "Your disk quota is used up. Free some space.",
    errno.EROFS: "The data folder is read-only. Make it writable.",
    errno.EACCES: "Dialside may not write to the data folder. Give its user the right.",
    errno.EIO: "The disk reports errors. Copy the data folder before anything else.",
}
_BY_WORDS = {
    "disk is full": _BY_NUMBER[errno.ENOSPC],
    "readonly database": _BY_NUMBER[errno.EROFS],
    "disk i/o error": _BY_NUMBER[errno.EIO],
    "malformed": "The database is damaged. Stop Dialside and run make doctor; it says which backup to put back.",
    "not a database": "The database is damaged. Stop Dialside and run make doctor; it says which backup to put back.",
    "unable to open database": "The database cannot be opened. Run make doctor; it says what is wrong with its folder.",
    "database is locked": "Another program keeps the database busy. Nothing was saved; try again in a moment.",
    "connection": "The database server does not answer. Nothing was saved; start it, or check DIALSIDE_DATABASE.",
}


def sentence_for(error) -> str:
    """What to tell the person of an error that comes from outside the program; "" for a fault of its own."""
    if isinstance(error, (DatabaseError, sqlite3.DatabaseError)):
        words = str(error).lower()
        return next((sentence for sign, sentence in _BY_WORDS.items() if sign in words), "")
    if isinstance(error, OSError):
        return _BY_NUMBER.get(error.errno or 0, "")
    return ""


class TellTroubles:
    """Answer a trouble from outside with a plain page instead of a fault of the program."""

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        return self.get_response(request)

    def process_exception(self, request, error):
        sentence = sentence_for(error)
        return render(request, "outside_error.html", {"sentence": sentence}, status=503) if sentence else None
