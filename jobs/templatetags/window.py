"""Template words of the show window's site."""

from urllib.parse import quote

from django import template
from django.utils.html import format_html
from django.utils.translation import gettext as _

from jobs.holder_orders.asking import QUESTIONS

register = template.Library()


@register.simple_tag(takes_context=True)
def to(context, path, language=""):
    """The way from this page to another, by its path within a language's folder: {% to "pieces.html" %}."""
    return context["page"].to(path, language)


@register.simple_tag(takes_context=True)
def place(context, path):
    """The way from this page to a file of the whole site: {% place "assets/site.css" %}."""
    return context["page"].relative(path)


@register.simple_tag(takes_context=True)
def ask(context, piece):
    """The mail link about a piece: with its code, by which what comes back opens the entry, and our questions.

    Nothing where the shop gives no e-mail address: {% ask piece %}.
    """
    email = context["site"].window.email
    if not email:
        return ""
    subject = _("About {title}, {code}").format(title=piece.title.plain, code=piece.code)
    body = _(
        "Which watch do you have, as far as you know?\n\n\nWhat would you like?\n\n\nWhat does it do now?\n\n\n"
        "Please attach photos of the front, the back and, if it is open, the inside."
    )
    return _mail_link(email, subject, body, _("Ask about a watch like this"))


@register.simple_tag(takes_context=True)
def order(context, holder):
    """The mail link that orders a holder by its code; nothing without an e-mail address: {% order holder %}."""
    email = context["site"].window.email
    if not email:
        return ""
    subject = _("Order: {title}, {code}").format(title=holder.title.plain, code=holder.code)
    return _mail_link(email, subject, _(QUESTIONS), _("Order this part"))


def _mail_link(email, subject, body, words):
    link = f"mailto:{quote(email, safe='@')}?subject={quote(subject)}&body={quote(body)}"
    return format_html('<p class="ask"><a class="go" href="{}">{}</a></p>', link, words)


@register.simple_tag(takes_context=True)
def photo(context, picture, sizes, loading="lazy"):
    """A photo in the widths that screens ask for; `sizes` says how wide it stands on the page, as in HTML."""
    page, shown = context["page"], picture.shown
    widths = ", ".join(f"{page.relative(path)} {width}w" for path, width in shown.sizes)
    waits = format_html(' loading="{}"', loading) if loading == "lazy" else ""
    return format_html(
        '<img src="{}" srcset="{}" sizes="{}" width="{}" height="{}" alt="{}"{}>',
        page.relative(shown.sizes[0][0] if len(shown.sizes) == 1 else shown.sizes[1][0]),
        widths,
        sizes,
        shown.width,
        shown.height,
        picture.words,
        waits,
    )
