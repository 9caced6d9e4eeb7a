"""The watch as a paper names it."""

from django.utils.html import format_html
from django.utils.translation import gettext


def named(title, job, *more):
    """What a customer's watch is called: its title, other names, its serial number, each as markup."""
    names = [format_html('<span dir="auto">{}</span>', name) for name in dict.fromkeys((title, *more)) if name]
    serial = gettext('serial number <span dir="auto">{serial}</span>')
    return names + ([format_html(serial, serial=job.serial)] if job.serial else [])
