"""Quote pages: drafted, edited, sent, answered."""

import io
import re
from datetime import date
from decimal import Decimal as D

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone
from PIL import Image

from jobs.condition import asked_at_intake
from jobs.models import Job, Order, Quote, QuoteLine, Shop
from jobs.options import choosing
from jobs.quotes import versions
from jobs.stages.checklist import items_of
from tests.factories import JobFactory, PairingFactory
from tests.reading import as_read

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner):
    Shop.objects.create(hourly_rate=D(60), mark_up=D(50), currency="EUR")
    job = JobFactory()
    choosing.choose(option=choosing.add_option(job=job, pairing=PairingFactory(), by=owner), by=owner)
    return job


def url(name, job, version=1):
    return reverse(f"jobs:{name}", args=[job.number, version])


@pytest.fixture
def quote(owner_client, job):
    owner_client.post(reverse("jobs:quote-draft", args=[job.number]))
    return Quote.objects.get()


def posted(page, **changes):
    editor = page.context["editor"]
    form, sets = editor.form, editor.sets
    data = {"stamp": editor.stamp} | {name: form[name].value() for name in form.fields}
    for _, own, lines in sets:
        data[own.add_prefix("title")] = own["title"].value()
        data |= {f"{lines.prefix}-{key}": value for key, value in lines.management_form.initial.items()}
        for line in lines:
            data |= {line.add_prefix(name): line[name].value() for name in line.fields}
    return {key: value for key, value in (data | changes).items() if value is not None and value is not False}


def test_a_draft_needs_an_option(owner_client):
    job = JobFactory()
    response = owner_client.post(reverse("jobs:quote-draft", args=[job.number]), follow=True)
    assert "Choose an option first" in response.text


def test_what_was_found_and_agreed_at_intake_is_quoted_and_ticked(owner_client, job):
    job.diagnosis_fee = D(35)
    job.save()
    for subject, finding in (("crystal", "worn"), ("gasket", "damaged"), ("case", "damaged"), ("water", "yes")):
        job.conditions.create(subject=subject, finding=finding)
    owner_client.post(reverse("jobs:quote-draft", args=[job.number]))
    lines = {line.text: line for line in QuoteLine.objects.all()}
    assert lines["Diagnosis, as agreed"].price == 35
    polish, gasket, dry = (
        lines[text] for text in ("Polish the crystal", "New gasket", "Clean and dry the inside of the case")
    )
    assert (polish.minutes, polish.price, polish.optional) == (15, 15, True)
    assert (gasket.kind, gasket.price, gasket.optional) == ("part", None, False)
    assert gasket.basis == "Gasket damaged at intake; enter its cost"
    assert (dry.kind, dry.price) == ("work", 20)
    steps = {kind: [item.text for item in items_of(kind, None, job)] for kind in ("teardown", "handover")}
    assert "Signs of water at intake: inside of the case cleaned and dried." in steps["teardown"]
    assert steps["handover"][:2] == [
        "Crystal worn at intake: put right, or left as agreed with the customer.",
        "Gasket damaged at intake: put right, or left as agreed with the customer.",
    ]


def test_a_watch_that_came_in_good_order_asks_for_nothing_more(owner_client, job):
    for subject, finding in (("crystal", "good"), ("water", "no"), ("runs", "no")):
        job.conditions.create(subject=subject, finding=finding)
    assert list(asked_at_intake(job)) == []


def test_lines_are_edited_added_dropped_and_priced_by_the_rates(owner_client, job, quote):
    page = owner_client.get(url("quote", job))
    prefix = page.context["editor"].line_sets[0].prefix
    movement = quote.parts.get().lines.get(bought="movement")
    index = list(quote.parts.get().lines.all()).index(movement)
    count = quote.parts.get().lines.count()
    new = {"position": 99, "kind": "work", "text": "Polish the case", "minutes": 45, "tax_rate": 0}
    data = posted(page, **{f"{prefix}-{index}-cost": "20.00", f"{prefix}-0-DELETE": "on", "discount": "10"})
    data |= {f"{prefix}-{count}-{key}": value for key, value in new.items()}
    assert owner_client.post(url("quote", job), data).status_code == 302
    movement.refresh_from_db()
    quote.refresh_from_db()
    lines = quote.parts.get().lines
    assert (movement.price, quote.discount, lines.count()) == (D("30.00"), 10, count)
    assert lines.get(text="Polish the case").price == D("45.00")


def test_a_disclosure_has_no_price(owner_client, job, quote):
    page = owner_client.get(url("quote", job))
    prefix = page.context["editor"].line_sets[0].prefix
    response = owner_client.post(
        url("quote", job), posted(page, **{f"{prefix}-0-kind": "accept", f"{prefix}-0-price": "5"})
    )
    assert response.status_code == 422
    assert "Points to accept carry no price" in response.text


def test_a_second_tab_does_not_overwrite_the_quote(owner_client, job, quote):
    page = owner_client.get(url("quote", job))
    owner_client.post(url("quote", job), posted(page, note="one"))
    response = owner_client.post(url("quote", job), posted(page, note="two"))
    assert response.status_code == 422
    assert "Saved now: one" in response.text


def test_a_sent_quote_cannot_be_changed_any_more(owner_client, job, quote):
    assert "No price for" in owner_client.post(url("quote-send", job), follow=True).text
    page = owner_client.get(url("quote", job))
    QuoteLine.objects.filter(price=None).update(price=D(5))
    owner_client.post(url("quote-send", job))
    owner_client.post(url("quote", job), posted(page, note="sneaked in"))
    quote.refresh_from_db()
    assert (quote.state, quote.note) == ("sent", "")


def test_the_paper_that_went_out_is_kept_as_it_went_out(owner_client, job, quote):
    QuoteLine.objects.filter(price=None).update(price=D(5))
    owner_client.post(url("quote-send", job))
    kept = quote.papers.get()
    page = owner_client.get(url("quote", job)).text
    assert reverse("jobs:saved-paper", args=[job.number, kept.pk]) in page
    before = kept.file.read()
    Shop.objects.update(name="Another name")
    assert (
        b"".join(owner_client.get(reverse("jobs:saved-paper", args=[job.number, kept.pk])).streaming_content) == before
    )


def test_a_signed_paper_is_kept_with_the_jobs_photos(owner_client, job, quote):
    QuoteLine.objects.filter(price=None).update(price=D(5))
    owner_client.post(url("quote-send", job))
    out = io.BytesIO()
    Image.new("RGB", (300, 200), "white").save(out, "JPEG")
    data = {"how": "signed", "said_by": "O. Reed", "on": str(timezone.localdate()), "do": "accept"}
    picture = SimpleUploadedFile("signed.jpg", out.getvalue(), "image/jpeg")
    owner_client.post(url("quote-answer", job), data | {"signature": picture})
    photo = job.photos.get()
    assert (photo.kind, photo.quote, photo.caption) == ("signed", quote, "Signed: version 1")
    job.refresh_from_db()
    assert job.waits_for == "parts"
    assert "Waiting for " in owner_client.get("/").text


def test_the_customers_answer_is_recorded_against_its_version(owner_client, job, quote):
    QuoteLine.objects.filter(price=None).update(price=D(5))
    owner_client.post(url("quote-send", job))
    today = str(timezone.localdate())
    assert owner_client.post(url("quote-answer", job), {"how": "phone", "said_by": "", "on": today}).status_code == 422
    assert "although_expired" not in owner_client.get(url("quote", job)).text
    Quote.objects.update(valid_until=date(2026, 1, 1))
    assert "although_expired" in owner_client.get(url("quote", job)).text
    data = {"how": "email", "said_by": "O. Reed", "on": today, "do": "accept"}
    assert "was valid until 1 Jan 2026" in owner_client.post(url("quote-answer", job), data).text
    owner_client.post(url("quote-answer", job), data | {"although_expired": "on"})
    quote.refresh_from_db()
    assert (quote.state, quote.decided_how) == ("accepted", "email")
    assert "Accepted by e-mail by O. Reed" in as_read(owner_client.get(url("quote", job)).text)
    owner_client.post(url("quote-answer", job), {"do": "undo"})
    quote.refresh_from_db()
    assert quote.state == "sent"


def test_an_accepted_quote_lets_teardown_begin(owner_client, job, owner, quote):
    QuoteLine.objects.filter(price=None).update(price=D(5))
    versions.send(quote=quote, by=owner)
    said = {"by": owner, "said_by": "x", "how": "phone", "on": timezone.localdate()}
    versions.accept(quote=quote, part=quote.parts.get(), taken=set(), **said)
    assert (
        "The customer has not agreed yet"
        not in owner_client.get(reverse("jobs:stage", args=[job.number, "teardown"])).text
    )
    assert "given with the accepted quote" in owner_client.get(job.get_absolute_url()).text


def test_orders_show_over_all_jobs(owner_client, job):
    owner_client.post(reverse("jobs:order-add", args=[job.number]), {"text": "Crown 5.0", "state": "wanted"})
    order = Order.objects.get()
    assert "Crown 5.0" in owner_client.get(reverse("jobs:orders")).text
    change = {"text": "Crown 5.0", "state": "arrived", "supplier": "Post"}
    owner_client.post(reverse("jobs:order", args=[job.number, order.pk]), change)
    assert "Crown 5.0" not in owner_client.get(reverse("jobs:orders")).text


def test_several_parts_are_noted_as_ordered_and_as_arrived_at_once(owner_client, job):
    for text in ("Crown 5.0", "Strap", "Cell"):
        owner_client.post(reverse("jobs:order-add", args=[job.number]), {"text": text, "state": "wanted"})
    page, (crown, strap, cell) = reverse("jobs:orders"), Order.objects.order_by("pk")
    Job.objects.update(waits_for="parts")
    said = owner_client.post(page, {"state": "wanted", "order": [crown.pk, strap.pk]}, follow=True).text
    assert f"Noted as ordered: Crown 5.0, job {job.number}; Strap, job {job.number}." in said
    assert dict(Order.objects.values_list("text", "state")) == {
        "Crown 5.0": "ordered",
        "Strap": "ordered",
        "Cell": "wanted",
    }
    owner_client.post(page, {"state": "ordered", "order": [crown.pk, strap.pk, cell.pk]})
    assert dict(Order.objects.values_list("text", "state")) == {
        "Crown 5.0": "arrived",
        "Strap": "arrived",
        "Cell": "wanted",
    }
    job.refresh_from_db()
    assert job.waits_for == "parts"
    unknown = ({"state": "wanted", "order": key} for key in ("x", "9" * 30))
    for sent in ({"state": "ordered"}, {"state": "arrived", "order": crown.pk}, *unknown):
        assert "Tick the parts first." in owner_client.post(page, sent, follow=True).text
    Order.objects.filter(pk=cell.pk).update(state="ordered")
    owner_client.post(page, {"state": "ordered", "order": cell.pk})
    job.refresh_from_db()
    assert job.waits_for == "me"


def test_an_unknown_version_is_not_found(owner_client, job):
    assert owner_client.get(url("quote", job, 7)).status_code == 404


def test_a_draft_is_saved_as_it_is_sent(owner_client, job, quote):
    page = owner_client.get(url("quote", job))
    QuoteLine.objects.filter(price=None).update(price=D(5))
    page = owner_client.get(url("quote", job))
    owner_client.post(url("quote", job), posted(page, note="As we said.", do="send"))
    quote.refresh_from_db()
    assert (quote.state, quote.note) == ("sent", "As we said.")


def test_what_is_typed_for_a_quote_that_went_out_meanwhile_is_not_lost(owner_client, job, quote):
    page = owner_client.get(url("quote", job))
    QuoteLine.objects.filter(price=None).update(price=D(5))
    owner_client.post(url("quote-send", job))
    response = owner_client.post(url("quote", job), posted(page, note="typed in the other tab"))
    assert response.status_code == 422
    assert "was marked as sent while you were editing" in response.text
    assert "typed in the other tab" in response.text
    assert "Save the quote" not in response.text
    quote.refresh_from_db()
    assert quote.note == ""


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        ("minutes", "20000", "Too large: it must be 10000 or less."),
        ("position", "99999999999", "Too large: it must be 1000 or less."),
        ("price", "-1", "Too small: it must be 0 or more."),
        ("price", "99999999.99", "Too many digits: 9 at most."),
        ("text", "x" * 401, "the limit is 400"),
    ],
)
def test_a_line_that_cannot_be_is_refused_on_its_field(owner_client, job, quote, field, value, words):
    page = owner_client.get(url("quote", job))
    prefix = page.context["editor"].line_sets[0].prefix
    response = owner_client.post(url("quote", job), posted(page, **{f"{prefix}-0-{field}": value}))
    assert response.status_code == 422
    assert words in response.text
    assert value in response.text


def test_a_cost_that_the_mark_up_makes_too_large_is_refused(owner_client, job, quote):
    page = owner_client.get(url("quote", job))
    prefix = page.context["editor"].line_sets[0].prefix
    changes = {"kind": "part", "cost": "9999999.99", "price": "", "minutes": ""}
    response = owner_client.post(url("quote", job), posted(page, **{f"{prefix}-0-{k}": v for k, v in changes.items()}))
    assert response.status_code == 422
    assert "the limit is 9999999.99. Type a price." in response.text


@pytest.mark.parametrize("part", ["abc", "99999999999999999999999", "²"])
def test_an_unknown_way_is_not_accepted(owner_client, job, quote, part):
    QuoteLine.objects.filter(price=None).update(price=D(5))
    owner_client.post(url("quote-send", job))
    data = {"how": "phone", "said_by": "O. Reed", "on": str(timezone.localdate()), "do": "accept"}
    response = owner_client.post(url("quote-answer", job), data | {"part": part, "taken": "²"})
    assert response.status_code == 422
    assert "That option is not in this version" in response.text
    assert "O. Reed" in response.text


@pytest.mark.parametrize("ticked", ["9" * 5000, "9" * 25, "\u0663"])
def test_a_tick_of_thousands_of_digits_ticks_nothing(owner_client, job, quote, ticked):
    QuoteLine.objects.filter(price=None).update(price=D(5))
    owner_client.post(url("quote-send", job))
    assert owner_client.post(url("quote-answer", job), {"taken": ticked, "said_by": ""}).status_code == 422
    data = {"how": "phone", "said_by": "O. Reed", "on": str(timezone.localdate()), "do": "accept"}
    assert owner_client.post(url("quote-answer", job), data | {"taken": ticked}).status_code == 302
    assert not QuoteLine.objects.filter(taken=True, optional=True).exists()


def test_of_two_ways_the_accepted_one_is_said(owner_client, job, owner):
    plain = choosing.add_option(job=job, pairing=PairingFactory(name="Plain"), by=owner)
    both = [choosing.chosen_option(job).pk, plain.pk]
    owner_client.post(reverse("jobs:quote-draft", args=[job.number]), {"option": [*both, "²", "9" * 30]})
    QuoteLine.objects.filter(price=None).update(price=D(5))
    owner_client.post(url("quote-send", job))
    data = {"how": "phone", "said_by": "O. Reed", "on": str(timezone.localdate()), "do": "accept"}
    response = owner_client.post(url("quote-answer", job), data)
    assert response.status_code == 422
    assert "Choose the option that was accepted" in response.text
    second = Quote.objects.get().parts.get(option=plain)
    owner_client.post(url("quote-answer", job), data | {"part": second.pk})
    second.refresh_from_db()
    assert second.accepted


def test_a_draft_that_is_taken_back_stays_a_draft(owner_client, job, quote):
    response = owner_client.post(url("quote-answer", job), {"do": "undo"}, follow=True)
    assert "there is no answer to undo" in response.text
    quote.refresh_from_db()
    assert quote.state == "draft"


def test_with_the_last_part_the_job_waits_for_parts_no_longer(owner_client, job):
    order = Order.objects.create(job=job, text="Crown 5.0")
    type(job).objects.update(waits_for="parts")
    change = {"text": "Crown 5.0", "state": "arrived"}
    owner_client.post(reverse("jobs:order", args=[job.number, order.pk]), change)
    job.refresh_from_db()
    assert job.waits_for == "me"


def test_a_price_below_the_smallest_coin_is_refused(owner_client, job, quote):
    Quote.objects.update(currency="JPY")
    page = owner_client.get(url("quote", job))
    prefix = page.context["editor"].line_sets[0].prefix
    response = owner_client.post(url("quote", job), posted(page, **{f"{prefix}-0-price": "10.50"}))
    assert response.status_code == 422
    assert "10.50 cannot be paid: the smallest coin is 1 JPY." in response.text


def test_a_printed_draft_is_not_said_to_have_gone_out(owner_client, job, quote):
    owner_client.post(f"{reverse('jobs:paper', args=[job.number, 'quote'])}?version=1")
    QuoteLine.objects.filter(price=None).update(price=D(5))
    owner_client.post(url("quote-send", job))
    assert quote.papers.count() == 2
    assert list(owner_client.get(url("quote", job)).context["papers"]) == [quote.papers.first()]


def test_a_wrong_line_is_told_at_the_head_of_the_page(owner_client, job, quote):
    page = owner_client.get(url("quote", job))
    assert "Nothing is saved yet" not in page.text
    prefix = page.context["editor"].line_sets[0].prefix
    response = owner_client.post(url("quote", job), posted(page, **{f"{prefix}-2-price": "-1", "do": "send"}))
    assert "Correct what is marked in 1 line below" in response.text


def test_an_extra_is_agreed_only_where_it_was_ticked(owner_client, job, quote):
    QuoteLine.objects.filter(price=None).update(price=D(5))
    one, two = quote.parts.get().lines.all()[:2]
    QuoteLine.objects.filter(pk__in=[one.pk, two.pk]).update(optional=True)
    owner_client.post(url("quote-send", job))
    page = as_read(owner_client.get(url("quote", job)).text)
    assert page.count('name="taken"') == 2
    assert 'name="taken" value="' in page
    assert not re.search(r'name="taken" value="\d+" checked', page)
    data = {"how": "phone", "said_by": "O. Reed", "on": str(timezone.localdate()), "do": "accept", "taken": two.pk}
    owner_client.post(url("quote-answer", job), data)
    page = as_read(owner_client.get(url("quote", job)).text)
    assert (page.count("optional, wanted"), page.count("optional, not wanted")) == (1, 1)


def test_a_refused_answer_keeps_what_was_ticked(owner_client, job, quote):
    QuoteLine.objects.filter(price=None).update(price=D(5))
    one, two = quote.parts.get().lines.all()[:2]
    QuoteLine.objects.filter(pk__in=[one.pk, two.pk]).update(optional=True)
    owner_client.post(url("quote-send", job))
    response = owner_client.post(url("quote-answer", job), {"do": "accept", "said_by": "", "taken": two.pk})
    assert response.status_code == 422
    assert f'name="taken" value="{two.pk}" checked' in as_read(response.text)
    assert f'name="taken" value="{one.pk}" checked' not in as_read(response.text)
    assert response.text.count('name="taken"') == 2


def test_a_draft_is_not_answered_and_says_why(owner_client, job, quote):
    data = {"how": "phone", "said_by": "O. Reed", "on": str(timezone.localdate()), "note": "by the way", "do": "accept"}
    response = owner_client.post(url("quote-answer", job), data)
    assert response.status_code == 422
    assert "is draft; only a sent one can be answered" in response.text
    assert "by the way" in response.text
    assert 'value="accept"' not in response.text


def test_an_answer_given_twice_is_recorded_once_and_says_so(owner_client, job, quote):
    QuoteLine.objects.filter(price=None).update(price=D(5))
    owner_client.post(url("quote-send", job))
    data = {"how": "phone", "said_by": "O. Reed", "on": str(timezone.localdate()), "do": "accept"}
    owner_client.post(url("quote-answer", job), data)
    response = owner_client.post(url("quote-answer", job), data | {"do": "refuse"})
    assert "is accepted; only a sent one can be answered" in response.text
    assert "Undo the answer" in response.text
    assert Order.objects.count() == quote.parts.get().lines.filter(kind="part").count()


@pytest.mark.parametrize("name", ["quote-send", "quote-next", "quote-answer"])
def test_who_comes_to_a_button_by_a_link_is_led_to_the_quote(owner_client, job, quote, name):
    assert owner_client.get(url(name, job)).url == url("quote", job)
    quote.refresh_from_db()
    assert (quote.state, Quote.objects.count()) == ("draft", 1)


def test_the_sums_follow_what_is_typed_and_nothing_is_saved(owner_client, job, quote):
    quote.parts.get().lines.filter(price=None).update(price=D(5))
    page = owner_client.get(url("quote", job))
    prefix = page.context["editor"].line_sets[0].prefix
    before = page.context["ways"][0].sums.total
    typed = posted(page, **{f"{prefix}-0-minutes": "30", f"{prefix}-0-price": "", "discount": "50"})
    lines = quote.parts.get().lines
    answer = owner_client.post(url("quote-sums", job), typed)
    (way,) = answer.context["ways"]
    rest = sum(line.price for line in lines.exclude(pk=lines.first().pk).exclude(kind="accept"))
    assert way.sums.lines == rest + D("30.00"), "half an hour at 60 an hour"
    assert f"€{(rest + 30) / 2:.2f}" in answer.text
    assert owner_client.get(url("quote", job)).context["ways"][0].sums.total == before


@pytest.mark.parametrize(
    ("name", "typed", "said"),
    [
        ("valid_until", "2026-01-01", "1 Jan 2026 is in the past, and a quote must be valid when it is sent."),
        ("discount", "250", "250\xa0% is out of range: it must be between 0 and 100\xa0%."),
        ("discount", "-5", "-5\xa0% is out of range: it must be between 0 and 100\xa0%."),
        ("discount", "ten", "“ten” is not a percentage. Type it like 10 or 12.5; 0 for none."),
        ("discount", "", "Type a percentage; 0 for none."),
        ("discount", "12.345", "12.345\xa0% has more than two decimals."),
    ],
)
def test_what_is_wrong_with_the_whole_quote_is_said_as_it_is_typed_and_when_saved(
    owner_client, job, quote, name, typed, said
):
    data = posted(owner_client.get(url("quote", job))) | {name: typed}
    assert said in owner_client.post(url("quote-sums", job), data).text
    saved = owner_client.post(url("quote", job), data)
    assert saved.status_code == 422
    assert said in saved.text
    assert f'value="{typed}"' in saved.text or not typed
    quote.refresh_from_db()
    assert (quote.discount, quote.valid_until > date(2026, 1, 1)) == (0, True)


def test_a_discount_is_typed_as_people_do(owner_client, job, quote):
    page = owner_client.get(url("quote", job))
    owner_client.post(url("quote", job), posted(page, discount="12,5 %"))
    quote.refresh_from_db()
    assert quote.discount == D("12.5")


def test_typed_sums_say_what_has_no_price_and_what_is_wrong(owner_client, job, quote):
    page = owner_client.get(url("quote", job))
    prefix = page.context["editor"].line_sets[0].prefix
    answer = owner_client.post(url("quote-sums", job), posted(page, **{f"{prefix}-0-price": "abc"}))
    assert "1 line is not counted until corrected." in answer.text
    assert "not yet: 4 lines have no price" in as_read(answer.text)


def test_an_option_and_the_watch_are_called_as_the_customer_calls_them(owner_client, job, quote):
    page = owner_client.get(url("quote", job))
    own = page.context["editor"].part_forms[0]
    changes = {"title": "Grandfather's watch", own.add_prefix("title"): "It runs"}
    owner_client.post(url("quote", job), posted(page, **changes))
    quote.refresh_from_db()
    assert (quote.watch, quote.parts.get().title) == ("Grandfather's watch", "It runs")


def test_a_sent_quote_offers_the_shops_words_to_copy(owner_client, job, quote):
    Shop.objects.update(name="The Bench", quote_message="Hi {name}: {total} until {valid until}. {nothing} {shop}")
    Quote.objects.update(valid_until=date(2030, 5, 3))
    job.customer.name = "{total}"
    job.customer.save()
    QuoteLine.objects.filter(price=None).update(price=D(5))
    owner_client.post(url("quote-send", job))
    page = owner_client.get(url("quote", job))
    (_, email), (_, message) = page.context["texts"]
    total = page.context["ways"][0].sums.total
    assert message == f"Hi {{total}}: €{total} until 3 May 2030. {{nothing}} The Bench"
    assert f"quote {job.number}, version 1, €{total}." in email
    assert "Dialside sends nothing." in as_read(page.text)
    QuoteLine.objects.filter(kind="part").update(optional=True)
    page = owner_client.get(url("quote", job))
    assert f"€{total - 20} to €{total}" in page.context["texts"][0][1]
