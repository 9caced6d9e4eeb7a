"""What each paper says, gathered for its template."""

from __future__ import annotations

import re
from functools import partial
from typing import TYPE_CHECKING, Any

from django.utils import timezone
from django.utils.html import format_html
from django.utils.safestring import mark_safe
from django.utils.translation import gettext, gettext_noop

from jobs import luminous
from jobs.language.choices import settled, spoken
from jobs.language.formats import day
from jobs.models import Condition, Job
from jobs.money.sums import shown
from jobs.options.choosing import chosen_option, report_of
from jobs.papers import measuring_sheet
from jobs.papers.handover import handover
from jobs.papers.job_sheet import sheet
from jobs.papers.labels import SIZES
from jobs.papers.named import named
from jobs.quotes.composed import say_ways
from jobs.quotes.ways import ways_of, what_differs
from parts.fit.drawings import foot_cutting_svg, foot_template_svg, window_svg
from parts.fit.drawings.foot_template import across, not_measured
from parts.fit.drawings.look import look_side
from parts.holder.drawings import pad_map_svg, pads_svg
from parts.holder.pads import pad_map
from parts.pairings.look import looks_of, on_paper
from parts.pairings.page import phrase_of
from parts.tools.papers.pdf import to_scale
from parts.tools.qr import qr_svg

if TYPE_CHECKING:
    from jobs.models import Quote, Shop

OF_THE_DATE = ("date-present", "date-tilt", "date-position", "date-cut", "date-neighbours", "date-disc", "date-depth")
"""The checks whose lines in a quote are told with a picture of the date window."""

LOOK_MM = 40.0
"""Width of the dial as it will be on a quote, mm."""
MOST_ON_RECEIPT = 8
"""Photos that a receipt shows; of more it tells the number."""


def common(job, address, shop):
    """What every paper may need: shop, job, day, and the code: what opens the job elsewhere, or its number alone.

    `language` is the code of the language that is spoken now.
    """
    return {
        "language": spoken(),
        "shop": shop,
        "has_logo": bool(shop.logo),
        "job": job,
        "customer": job.customer,
        "printed": timezone.localtime(),
        "code": mark_safe(qr_svg(address or job.number)),
    }


PAINT: dict[str, str] = {
    Job.Luminous.NONE: gettext_noop("none found"),
    Job.Luminous.AGED: gettext_noop("old and unmarked: it may contain radium"),
    Job.Luminous.MARKED: gettext_noop("old, marked as free of radium"),
    Job.Luminous.MODERN: gettext_noop("modern"),
}
"""What a customer reads of the luminous paint."""


def receipt(job: Job, *, shop: Shop, **_: Any) -> dict[str, Any]:
    """The watch as it came: what was looked at and what was not, and its pictures."""
    title, *names = named(job.title, job, job.watch)
    looked = [line for line in job.conditions.all() if line.finding or line.remark]
    seen = {line.subject for line in looked} | ({Condition.Subject.LUMINOUS} if job.luminous else set())
    photos = [
        photo
        for photo in job.photos.filter(stage="intake", archived=False).order_by("-is_cover", "place", "pk")
        if not photo.has_money
    ]
    return {
        "came": [format_html("<strong>{}</strong>", title), *names],
        "left": [*named(job.title, job), *_left(job, shop)],
        "conditions": looked,
        "not_looked": [gettext(label) for subject, label in Condition.Subject.choices if subject not in seen],
        "blocked": luminous.is_blocked(job),
        "paint": gettext(PAINT[job.luminous]) if job.luminous else "",
        "photos": photos[:MOST_ON_RECEIPT],
        "more_photos": len(photos[MOST_ON_RECEIPT:]),
    }


def _left(job, shop):
    """When the watch was left with the shop, and for what value."""
    words = [gettext("received {day}").format(day=day(job.logged))]
    if job.declared_value is not None:
        words.append(gettext("declared value {value}").format(value=shown(job.declared_value, shop.currency)))
    return words


def label(job: Job, *, shop: Shop, place: int = 1, **_: Any) -> dict[str, Any]:
    """The tray's label; on a sheet, at that place of it."""
    size = SIZES[shop.label]
    return {
        "label": "papers/_label.html",
        "blocked": luminous.is_blocked(job),
        "own_language": settled(shop.language),
        "size": size,
        "cells": size.cells(place) if size.page else None,
    }


def quote(_job: Job, *, quote: Quote, **_: Any) -> dict[str, Any]:
    """The options of one version, each with the date window's picture where a line tells of it, and what differs."""
    ways = ways_of(quote=quote)
    say_ways(ways, spoken())
    is_sent = quote.state == quote.State.SENT
    pictures: dict[str, bytes] = {}
    looks = [_looks(way, number, pictures) for number, way in enumerate(ways)]
    return {
        "quote": quote,
        "ways": [(way, _window(way), look) for way, look in zip(ways, looks, strict=True)],
        "pictured": any(look and look.dial for look in looks),
        "pictures": pictures,
        "differing": what_differs(ways) if len(ways) > 1 else [],
        "may_sign": is_sent and bool(ways) and all(way.groups and not way.unpriced for way in ways),
        "accepted": next((way.part for way in ways if way.part.accepted), None),
    }


def _looks(way, number, pictures):
    """How the watch will look with an option, and how it came; the pictures that are shown go into `pictures`."""
    report = report_of(way.part.option) if way.part.option else None
    if report is None:
        return None
    pairing = way.part.option.pairing
    scale = LOOK_MM / look_side(report)
    looks = looks_of(pairing=pairing, report=report, mark=f"-{number}", scale=scale, address=on_paper(pictures))
    return looks._replace(dial=_retold(looks.dial), came=_retold(looks.came))


def _retold(drawing):
    """A drawing of the engine with what it tells those who do not see it in the language that is spoken now."""
    translations = {
        "The dial as it will be": gettext("The dial as it will be"),
        "Hands, window and opening to scale.": gettext("Hands, window and opening to scale."),
        "The watch as it came": gettext("The watch as it came"),
        "Its own picture, at the same scale.": gettext("Its own picture, at the same scale."),
        "The date as it will show": gettext("The date as it will show"),
    }
    return mark_safe(re.sub(r"(?<=<title>|.<desc>)[^<]+", lambda words: translations.get(words[0], words[0]), drawing))


def _window(way):
    report = report_of(way.part.option) if any(line.from_check in OF_THE_DATE for line in way.accept) else None
    window = to_scale(partial(window_svg, plain=True), report, 32.0) if report else None
    return window and window | {"svg": _retold(window["svg"])}


def template(job, **_):
    """The dial-foot template, its copy to cut and the pad map at 1:1; each None where its numbers are not measured.

    `lacking` says what of the dial's edge is not measured: then there is neither.
    """
    option = chosen_option(job)
    report = report_of(option)
    facts = {"option": option, "report": report, "drawing": None, "pads": None, "lacking": []}
    if report is None:
        return facts
    if lacking := not_measured(report):
        return facts | {"lacking": [phrase_of(path) for path in lacking]}
    facts |= {"across": across(report)}
    if report.foot_marks:
        facts |= {"drawing": mark_safe(foot_template_svg(report)), "cutting": mark_safe(foot_cutting_svg(report))}
    if pads := pad_map(report):
        facts |= {"pads": pads, "map": mark_safe(pad_map_svg(report, pads)), "to_cut": mark_safe(pads_svg(pads))}
    return facts


FACTS = {
    "receipt": receipt,
    "label": label,
    "quote": quote,
    "sheet": sheet,
    "measure": measuring_sheet.facts,
    "template": template,
    "handover": handover,
}
