"""The shop page: letterhead, money, texts, bench rules; orders and counts."""

from django.contrib import messages
from django.db.models import F
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.http import require_GET

from jobs.after import texts as after_texts
from jobs.language.choices import LANGUAGES, language_name
from jobs.learning.lines import FEWEST, lines
from jobs.models import Job, Order, Shop
from jobs.orders import ONWARD, take_onward
from jobs.papers.making import paper_pdf
from jobs.quotes.texts import PLACES
from jobs.shop.forms import INVOICES, LETTERHEAD, MONEY, PHOTOS, TIMING, WARRANTY, RulesForm, ShopForm, WordsForm
from jobs.shop.words import LETTERS, ON_INVOICES, ON_TOP, TEXTS, TEXTS_TO_COPY
from parts.fit.rules import RULES
from parts.pairings.worksheet import rule_words
from parts.tools.stale_guard import for_saving, one_transaction

_TEXTS = (
    ("Texts on the papers", TEXTS),
    ("Texts to copy into e-mails and messages", TEXTS_TO_COPY),
    ("Letters for looking after", LETTERS),
)


@one_transaction
def shop(request):
    """Letterhead, money and texts."""
    saved = Shop.current(for_saving(request, Shop.objects.all()))
    form = ShopForm(request.POST or None, request.FILES or None, instance=saved)
    if form.is_valid() and request.POST.get("do") == "preview":
        return _preview(request, form.instance)
    if form.is_valid():
        form.save()
        messages.success(request, lazy("Settings saved."))
        return redirect("jobs:shop")
    groups = [
        ("Letterhead", (*LETTERHEAD, "new_logo", *(["drop_logo"] if form.instance.logo else []))),
        ("Prices and tax", MONEY),
        ("Invoices", INVOICES),
        ("Timing", TIMING),
        ("Photos", PHOTOS),
        ("Warranty", WARRANTY),
        *_TEXTS,
    ]
    context = {"form": form, "others": _others(saved)}
    context |= _places() | {"groups": [(title, [form[name] for name in names]) for title, names in groups]}
    return render(request, "jobs/shop/shop.html", context, status=422 if form.is_bound else 200)


def _places():
    """What the texts that go with a quote, and those for looking after, may name in braces."""
    ways = {"places": PLACES, "places_after": after_texts.PLACES}
    return {key: ", ".join(f"{{{place}}}" for place in places) for key, places in ways.items()}


def _others(shop):
    """The languages that are not the shop's own, as (code, name)."""
    return [(code, name) for code, name in LANGUAGES if code != shop.language]


@one_transaction
def words(request, language):
    """What the shop says in another language than its own."""
    saved = Shop.current(for_saving(request, Shop.objects.all()))
    others = _others(saved)
    if language not in dict(others):
        raise Http404
    form = WordsForm(request.POST or None, shop=saved, language=language)
    if form.is_valid():
        form.save()
        messages.success(
            request,
            lazy("Saved. Papers in {language} have these words from now on.").format(language=language_name(language)),
        )
        return redirect("jobs:shop-words", language)
    groups = [
        ("Letterhead", ON_TOP),
        ("Invoices", ON_INVOICES),
        *_TEXTS,
    ]
    context = {"form": form, "others": others, "code": language, "name": language_name(language)}
    context |= _places() | {
        "groups": [(title, [form[name] for name in names]) for title, names in groups],
        "shop": saved,
    }
    return render(request, "jobs/shop/words.html", context, status=422 if form.is_bound else 200)


def _preview(request, shop):
    """The handover note of the latest job with what is typed, not saved."""
    job = Job.objects.select_related("customer", "case_family").first()
    if job is None:
        messages.error(request, lazy("Log a watch first: the preview is the handover note of the latest job."))
        return redirect("jobs:shop")
    address = request.build_absolute_uri(job.get_absolute_url())
    content = paper_pdf(job=job, kind="handover", address=address, shop=shop, language=shop.language)
    return HttpResponse(content, content_type="application/pdf")


@one_transaction
def rules(request):
    """The bench rules, each with its default, unit and reason."""
    for_saving(request, Shop.objects.all()).first()
    data = request.POST.copy() if request.POST else None
    reset = data.get("default", "") if data else ""
    if reset in RULES:
        data[reset] = ""
    form = RulesForm(data, linked=request.GET.get("rule", ""), words=request.GET.get("q", "").strip())
    if form.is_valid() and form.save():
        back = f" “{rule_words(reset)}” is back to its default." if reset in RULES else ""
        messages.success(
            request,
            lazy("Bench rules saved.{back} New checks use them; saved reports do not change.").format(back=back),
        )
        return redirect("jobs:rules")
    return render(request, "jobs/shop/rules.html", {"form": form}, status=422 if form.is_bound else 200)


@require_GET
def learned(request):
    """What the bench's outcomes say of the bench rules."""
    every = lines()
    context = {
        "lines": [line for line in every if line.is_enough],
        "few": [line for line in every if not line.is_enough],
    }
    return render(request, "jobs/shop/learned.html", context | {"fewest": FEWEST})


def orders(request):
    """Everything that is to be bought, over all jobs; several at once are noted as ordered, or as arrived."""
    if request.method == "POST":
        return _taken_onward(request)
    orders = Order.objects.filter(state__in=Order.OPEN).select_related("job__customer", "job__case_family")
    by_state = {state: [] for state in Order.OPEN}
    for order in orders.order_by(F("expected").asc(nulls_last=True), "pk")[:500]:
        by_state[order.state].append(order)
    groups = [(state, ONWARD[state], listed) for state, listed in by_state.items() if listed]
    return render(request, "jobs/stock/orders.html", {"groups": groups, "today": timezone.localdate()})


def _taken_onward(request):
    state = request.POST.get("state")
    taken = take_onward(keys=request.POST.getlist("order"), state=state, by=request.user) if state in Order.OPEN else []
    if taken:
        names = "; ".join(f"{order}, job {order.job.number}" for order in taken)
        messages.success(
            request, lazy("Noted as {state}: {names}.").format(state=taken[0].get_state_display(), names=names)
        )
    else:
        messages.error(request, lazy("Tick the parts first."))
    return redirect("jobs:orders")
