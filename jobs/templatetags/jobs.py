"""Template words of the job pages."""

from math import ceil

from django import template
from django.utils.html import format_html, format_html_join
from django.utils.translation import gettext, pgettext

from jobs import bench, history_words
from jobs.language import formats
from jobs.models import Shop, Stage
from jobs.money.sums import shown
from jobs.money.visibility import without_money
from jobs.photos import arranging, marks

register = template.Library()


@register.filter
def at(mapping, key):
    """The value at a key that is a variable; None where there is none: {{ faults|at:path }}."""
    return mapping.get(key) if mapping else None


@register.filter
def stage_word(kind):
    """A stage as a person says it: {{ photo.stage|stage_word }}."""
    return Stage.Kind(kind).label if kind in Stage.Kind.values else kind


@register.filter
def in_words(event):
    """What happened, what it was and what it became: {% with words=event|in_words %}{{ words.what }}{% endwith %}."""
    return history_words.in_words(event)


@register.filter
def money(amount, currency):
    """An amount with its currency sign: {{ line.price|money:quote.currency }}."""
    return shown(amount, currency)


@register.filter
def day(date, length="long"):
    """A day in the language that is spoken: {{ quote.valid_until|day }}, {{ job.promised|day:"medium" }}."""
    return formats.day(date, length)


@register.filter
def month(date):
    """A month of a year in the language that is spoken: {{ cell_due|month }}."""
    return formats.month(date)


@register.filter
def decimal(value, places=None):
    """A number in the language that is spoken: {{ rate|decimal }} as it is, {{ seconds|decimal:2 }} with two places."""
    return formats.number(value, places)


@register.filter
def listed(words):
    """Words one behind the other, markup among them: {{ not_looked|listed }}."""
    return format_html_join(pgettext("between the words of a list", ", "), "{}", ((word,) for word in words))


@register.simple_tag
def address_of(of, name, *keys):
    """The address of something of a job or a holder order: {% address_of of "invoice" invoice.pk %}."""
    return of.address(name, *keys)


@register.simple_tag
def photo_on_paper(photo, words):
    """A photo on a paper, its marks over it: {% photo_on_paper photo "As it came" %}."""
    address = f"paper:///photo-{photo.pk}"
    if marks.standing(photo):
        return marks.marked_svg(photo, address=address, words=words)
    return format_html('<img src="{}" alt="{}">', address, words)


@register.filter
def photo_pairs(photos):
    """The chosen pairs among photos: {% with pairs=photos|photo_pairs %}."""
    return arranging.pairs_of(photos)


@register.filter
def translated(words):
    """Words of a model's choices in the language that is spoken: {{ line.get_subject_display|translated }}."""
    return gettext(words) if words else ""


@register.filter
def shown_to(records, request):
    """The records without those that hold money, for who sees none: {% for event in events|shown_to:request %}."""
    return without_money(records, request)


@register.filter
def days_left(promised, today):
    """How far off a promised day is: {{ job.promised|days_left:today }}."""
    return bench.days_left(promised, today)


@register.filter
def ahead(moment, now):
    """How far a moment lies ahead of now: "40 min", "2 h 20 min", "7 h", "4 days"; empty once it has come, or for none.

    {% with left=outcome.due|ahead:now %}. Rounded up, so that nobody comes too early.
    """
    seconds = (moment - now).total_seconds() if moment else 0.0
    if seconds <= 0:
        return ""
    if seconds <= 90 * 60:
        step = 60 if seconds <= 10 * 60 else 300
        return f"{ceil(seconds / step) * step // 60}\xa0min"
    if seconds <= 6 * 3600:
        hours, minutes = divmod(ceil(seconds / 600) * 10, 60)
        return f"{hours}\xa0h" + (f" {minutes}\xa0min" if minutes else "")
    hours = ceil(seconds / 3600)
    return f"{hours}\xa0h" if hours <= 72 else f"{ceil(hours / 24)}\xa0days"


@register.inclusion_tag("jobs/shop/_nameless.html", takes_context=True)
def letterhead_missing(context):
    """A notice where papers would not say who they are from: {% letterhead_missing %}."""
    shop = context.get("shop") or Shop.current()
    return {"nameless": not shop.name, "is_owner": context.get("is_owner")}
