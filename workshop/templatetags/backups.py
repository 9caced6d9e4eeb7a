"""The state of the backups, for the Shop page."""

from django import template
from django.conf import settings
from django.contrib.auth import get_user_model
from django.db.models import Min
from django.utils import timezone

from workshop.safekeeping import backup

register = template.Library()


@register.inclusion_tag("workshop/_backup_state.html")
def backup_state():
    """How old the last backup is, and whether that is too old."""
    age = backup.age_of_last()
    return {
        "hours": None if age is None else max(round(age.total_seconds() / 3600), 0),
        "is_old": not _is_new() if age is None else age > backup.OLD,
        "is_demo": settings.DIALSIDE_DEMO,
        "folder": backup.folder(),
    }


def _is_new():
    """Whether the workshop is younger than a backup that is called old, by its first account."""
    first = get_user_model().objects.aggregate(Min("date_joined"))["date_joined__min"]
    return first is not None and timezone.now() - first < backup.OLD


@register.simple_tag
def backup_keeping():
    """How long a backup is kept, in a sentence."""
    return (
        f"Dialside keeps the newest {backup.KEPT} backups and the first of each of the last {backup.MONTHS} months. "
        f"After {backup.MONTHS} months no older one is left, apart from your copies on other disks."
    )
