"""Holder orders: taken, made, measured against the drawing, sent, and what the customer says goes to the revision."""

import re
from datetime import timedelta
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext

from jobs.customers.erase import CannotErase, erase
from jobs.customers.personal_data import rows_of
from jobs.holder_orders import feedback, listing, steps
from jobs.holder_orders.asking import QUESTIONS
from jobs.holder_orders.measuring import add_piece
from jobs.holder_orders.papers import SIZE_WORDS
from jobs.holder_orders.prices import proposed_price
from jobs.intake.who import picked
from jobs.language.choices import speaking
from jobs.models import Customer, HolderOrder, HolderPiece, HolderPrice, WindowHolder
from parts.fit.arithmetic.outlines import Outline
from parts.holder.closed_form import exact_volume
from parts.holder.parameters.to_measure import sizes_of
from tests.holder.pieces import ring, spacer
from tests.reading import as_read, pdf_words

pytestmark = pytest.mark.django_db
RIGHT = {"outside_diameter": "25.95", "inside_diameter": "22,05", "height": "3.6"}
"""A ring within the limits of filament, by the fields of its page."""


def at(name, *keys):
    return reverse(f"jobs:holder-{name}", args=keys)


def step(client, order, do="on", **said):
    """Take a step from where the page now stands; returns the state after it."""
    order.refresh_from_db()
    client.post(at("order-step", order.pk), {"do": do, "seen": order.state} | said)
    order.refresh_from_db()
    return order.state


def measured(client, order, **sizes):
    return client.post(at("order-measure", order.pk), sizes, follow=True)


def sent(order, owner):
    steps.forward(order=order, seen="make")
    add_piece(order=order, sizes={"outside_diameter": 26.0}, by=owner)
    steps.forward(order=order, seen="check")
    return steps.forward(order=order, seen="send")


@pytest.mark.parametrize("language", ["en", "de", "ja"])
def test_an_order_begins_with_what_its_mail_says(owner_client, design, owner, language):
    HolderPrice.objects.create(process="filament", material="Tough filament", per_piece=20)
    shown = WindowHolder.objects.create(design=design, title="Holder ring", code="8QMDS", by=owner)
    with speaking(language):
        count, which, where = (line for line in gettext(QUESTIONS).splitlines() if line)
    words = f"From: Oda Fenwright <oda@fenwright.example>\nSubject: Order: Holder ring, {shown.code}\n\n{count}\n3\n\n"
    words += f"{which}\nTough filament, black\n\n{where}\nOda Fenwright\nLinden Row 4\nBramblegate\n"
    enquiry = owner_client.post(reverse("jobs:enquiry-new"), {"words": words, "do": "read"})
    assert f'formaction="{at("order-new")}?design={design.pk}"' in as_read(enquiry.text)
    page = owner_client.post(at("order-new"), {"words": words, "do": "read", "remark": "typed before"})
    form = page.context["form"]
    expected = {
        "customer": "Oda Fenwright",
        "email": "oda@fenwright.example",
        "design": design.pk,
        "count": "3",
        "material": "Tough filament",
        "colour": "black",
        "remark": "typed before",
        "address": "Linden Row 4\nBramblegate",
        "language": language,
    }
    assert {name: form[name].value() for name in expected} == expected
    assert not HolderOrder.objects.exists()


def test_an_order_is_taken_for_a_new_customer_at_the_list_price(owner_client, design):
    HolderPrice.objects.create(process="filament", per_piece=18, per_cm3=6)
    HolderPrice.objects.create(process="filament", material="Tough filament", per_piece=20)
    said = {"customer": "Oda Fenwright", "phone": "555 0107", "design": design.pk, "count": "3"}
    page = owner_client.post(at("order-new"), said | {"material": "TOUGH filament"}, follow=True)
    order = HolderOrder.objects.get()
    assert (order.customer.name, order.count, order.price_each, order.price) == ("Oda Fenwright", 3, 20, 60)
    assert "Make 3 holder rings" in page.text
    assert "€60.00" in page.text


def test_the_list_price_is_the_piece_and_the_volume_of_its_body(design):
    assert proposed_price(design=design, material="any") is None
    line = HolderPrice.objects.create(process="filament")
    assert proposed_price(design=design, material="any") is None
    line.per_piece, line.per_cm3 = Decimal(18), Decimal(600)
    line.save()
    by_hand = 18 + 600 * exact_volume(ring()) / 1000
    assert float(proposed_price(design=design, material="any")) == pytest.approx(by_hand, rel=0.002)


def test_bad_input_is_refused_on_its_field_and_nothing_typed_is_lost(owner_client, design):
    said = {"customer": "Oda", "design": design.pk, "count": "0", "material": "", "wanted_by": "2020-01-01"}
    page = owner_client.post(at("order-new"), said | {"remark": "two spare nubs"})
    assert page.status_code == 422
    assert page.context["form"].errors.keys() == {"phone", "count", "material", "wanted_by"}
    assert "two spare nubs" in page.text
    assert not Customer.objects.exists()


def test_from_the_making_to_what_the_customer_says_and_back(owner_client, order):
    assert step(owner_client, order) == "check"
    assert step(owner_client, order) == "check"
    page = measured(owner_client, order, **RIGHT)
    assert "1 of 2 within the limits so far" in page.text
    assert step(owner_client, order) == "send"
    assert "4 Kiln Row" in owner_client.get(order.get_absolute_url()).text
    assert step(owner_client, order) == "sent"
    owner_client.post(at("order-feedback", order.pk), {"feedback": "tight", "feedback_words": "Needed a file"})
    order.design.refresh_from_db()
    assert (order.design.result, order.design.tried_on) == ("tight", f"holder order {order.pk}")
    assert order.design.notes == f"holder order {order.pk}, too tight: Needed a file"
    assert step(owner_client, order, "back") == "sent"
    owner_client.post(at("order-feedback", order.pk), {"do": "undo"})
    order.design.refresh_from_db()
    assert (order.design.result, order.design.tried_on, order.design.notes) == ("untried", "", "")
    assert [step(owner_client, order, "back") for _ in range(4)] == ["send", "check", "make", "make"]
    assert order.made_on is None


def test_what_was_noted_on_the_revision_since_then_stays(order, owner, design):
    sent(order, owner)
    feedback.give(order=order, feedback="fits", words="")
    design.refresh_from_db()
    design.result, design.tried_on, design.notes = "loose", "the blue one", f"{design.notes}\nWorn loose."
    design.save()
    feedback.undo(order=order)
    design.refresh_from_db()
    assert (design.result, design.tried_on, design.notes) == ("loose", "the blue one", "Worn loose.")


def test_a_piece_outside_its_limits_does_not_count_nor_does_one_left_out(owner_client, order):
    step(owner_client, order)
    page = measured(owner_client, order, **RIGHT | {"outside_diameter": "26.11"})
    assert "Piece 1 is outside its limits" in page.text
    assert "not measured" in page.text
    assert step(owner_client, order) == "check"
    measured(owner_client, order, **RIGHT)
    good = HolderPiece.objects.latest("pk")
    assert owner_client.post(at("order-measure", order.pk), {"do": "out", "piece": "x"}).status_code == 404
    owner_client.post(at("order-measure", order.pk), {"do": "out", "piece": good.pk})
    assert step(owner_client, order) == "check"
    owner_client.post(at("order-measure", order.pk), {"do": "count", "piece": good.pk})
    assert step(owner_client, order) == "send"


@pytest.mark.parametrize(
    ("sizes", "words"),
    [
        ({}, "Nothing is measured yet"),
        ({"outside_diameter": "2.6"}, "more than a tenth off 26.00 mm"),
        ({"height": "thick"}, "is not a number"),
    ],
)
def test_a_slip_in_measuring_is_refused(owner_client, order, sizes, words):
    step(owner_client, order)
    page = measured(owner_client, order, **sizes)
    assert page.status_code == 422
    assert words in page.text
    assert not HolderPiece.objects.exists()


def test_a_step_from_an_older_page_changes_nothing(owner_client, order):
    step(owner_client, order)
    page = owner_client.post(at("order-step", order.pk), {"do": "on", "seen": "make"}, follow=True)
    assert "This order has moved on: it is to check now." in page.text
    order.refresh_from_db()
    assert order.state == "check"


def test_a_cancelled_order_opens_again_where_it_was_and_its_pieces_are_free(owner_client, order):
    step(owner_client, order)
    assert owner_client.post(at("order-step", order.pk), {"do": "cancel"}).status_code == 422
    assert step(owner_client, order, "cancel", reason="no longer wanted") == "cancelled"
    assert [(row.pieces, row.cancelled) for row in listing.stock()] == [(2, 2)]
    assert "2 free, of cancelled" in owner_client.get(at("orders")).text
    assert step(owner_client, order, "reopen") == "check"
    assert [(row.pieces, row.cancelled) for row in listing.stock()] == [(2, 0)]


def test_what_is_ordered_changes_until_it_is_sent_and_the_revision_until_it_is_made(owner_client, order, owner):
    said = {"design": order.design_id, "count": "5", "material": "brass", "price_each": "7,5"}
    owner_client.post(at("order-edit", order.pk), said)
    order.refresh_from_db()
    assert (order.count, order.material, order.price) == (5, "brass", Decimal("37.50"))
    steps.forward(order=order, seen="make")
    page = owner_client.get(at("order-edit", order.pk))
    assert "design" not in page.context["form"].fields
    owner_client.post(at("order-edit", order.pk), said | {"count": "6", "stamp": "older"})
    order.refresh_from_db()
    assert order.count == 5
    steps.back(order=order)
    sent(order, owner)
    assert "stays as it is" in owner_client.get(at("order-edit", order.pk), follow=True).text


def test_orders_stand_by_what_is_to_be_done_and_the_bench_says_how_many(owner_client, order, owner):
    HolderOrder.objects.update(wanted_by=timezone.localdate() - timedelta(days=1))
    other = HolderOrder(design=order.design, material="brass", wanted_by=timezone.localdate())
    steps.take(order=other, customer=order.customer, by=owner)
    assert "2 orders, 1 late" in " ".join(owner_client.get("/").text.split())
    assert [(group.head, group.rows) for group in listing.groups()] == [("To make", [order, other])]
    other.delete()
    sent(order, owner)
    assert [group.head for group in listing.groups()] == ["Sent, no feedback yet"]
    feedback.give(order=order, feedback="fits", words="")
    assert [group.is_folded for group in listing.groups()] == [True]
    assert "Holders to make:" not in owner_client.get("/").text


def test_the_papers_come_in_the_customers_language_with_what_was_measured(owner_client, order, owner):
    steps.forward(order=order, seen="make")
    for outside in (25.94, 26.03, 26.4):
        add_piece(order=order, sizes={"outside_diameter": outside}, by=owner)
    note = pdf_words(owner_client.get(at("order-paper", order.pk, "delivery-note")).content)
    assert f"Lieferschein {order.pk}" in note
    assert "4 Kiln Row" in note
    assert "Außendurchmesser 26,00 ± 0,10 mm 25,94 bis 26,03 mm" in note
    label = pdf_words(owner_client.get(at("order-paper", order.pk, "label")).content)
    assert "2 × Werkhaltering" in label
    assert "Kelpmoor 38, Wick slim" in label
    assert owner_client.get(at("order-paper", order.pk, "invoice")).status_code == 404


def test_every_dimension_that_is_measured_has_its_words_on_the_delivery_note():
    oval, hole = Outline("oval", 30.0, 34.0), Outline("oval", 22.0, 24.0)
    step, nose = Outline("oval", 24.0, 26.0), Outline("oval", 27.0, 30.0)
    outlined = {"outside_outline": oval, "inside_outline": hole, "flange_outline": step, "nose_outline": nose}
    heights = {"flange_depth": 0.8, "nose_height": 0.8, "chamfer": 0.0}
    pieces = [
        ring(outside_diameter=0.0, inside_diameter=0.0, **outlined, **heights),
        ring(flange_diameter=22.5, nose_diameter=25.0, **heights),
        spacer(),
    ]
    assert {size.label.capitalize() for piece in pieces for size in sizes_of(piece)} == set(SIZE_WORDS)


def test_money_is_the_owners_alone(hand, order):
    HolderOrder.objects.update(price_each=7351)
    pages = [hand.get(address).text for address in (at("orders"), order.get_absolute_url())]
    assert not [page for page in pages if re.search(r"7.?351|14.?702|Price", page)]
    said = {"design": order.design_id, "count": "3", "material": "brass", "price_each": "1"}
    hand.post(at("order-edit", order.pk), said)
    order.refresh_from_db()
    assert (order.count, order.price_each) == (3, 7351)
    assert hand.get(at("prices")).status_code == 403


def test_the_price_list_takes_each_material_once(owner_client):
    head = {"form-TOTAL_FORMS": "1", "form-INITIAL_FORMS": "0"}
    line = {"form-0-process": "resin", "form-0-material": "Clear", "form-0-per_piece": "24", "form-0-per_cm3": "9,5"}
    owner_client.post(at("prices"), head | line)
    saved = HolderPrice.objects.get()
    assert (saved.process, saved.material, saved.per_piece, saved.per_cm3) == ("resin", "Clear", 24, Decimal("9.50"))
    both = {"form-TOTAL_FORMS": "2", "form-INITIAL_FORMS": "1", "form-0-id": saved.pk}
    again = {"form-1-process": "resin", "form-1-material": "clear", "form-1-per_piece": "30"}
    page = owner_client.post(at("prices"), both | line | again)
    assert page.status_code == 422
    assert "have a line already" in page.text
    assert HolderPrice.objects.count() == 1


def test_an_order_is_erased_with_its_customer_once_it_is_sent(order, owner):
    order.remark = "Bring it to Oda Fenwright herself"
    order.save()
    with pytest.raises(CannotErase, match=f"Holder order {order.pk} is not sent yet"):
        erase(customer=order.customer, by=owner)
    sent(order, owner)
    assert rows_of(HolderPiece, order.customer).count() == 1
    erase(customer=order.customer, by=owner)
    order.refresh_from_db()
    assert "Fenwright" not in order.remark
    assert order.customer.is_erased


def test_an_order_begins_from_a_revision_and_from_a_customer(owner_client, design, order):
    page = owner_client.get(at("order-new"), {"design": design.pk, "customer": order.customer.pk})
    form = page.context["form"]
    assert (form["design"].value(), form["customer"].value()) == (design.pk, picked(order.customer))
    assert f"{at('order-new')}?design={design.pk}" in owner_client.get(reverse("parts:holder", args=[design.pk])).text
    assert f'href="{order.get_absolute_url()}"' in owner_client.get(order.customer.get_absolute_url()).text


def test_a_material_without_a_list_price_is_asked_for_once(owner_client, order):
    HolderPrice.objects.create(process="filament", material="tough filament", per_piece=20)
    said = {"customer": "Vera Thorne", "phone": "555 0108", "design": order.design_id, "count": "1"}
    page = owner_client.post(at("order-new"), said | {"material": "brass"})
    assert page.status_code == 422
    assert page.context["form"].errors.keys() == {"price_each"}
    assert "The price list has no price for “brass” made by “filament”." in page.text
    assert "Save it without a price for now" in page.text
    owner_client.post(at("order-new"), said | {"material": "brass", "priceless": "on"})
    assert HolderOrder.objects.get(material="brass").price is None
    owner_client.post(at("order-new"), said | {"material": "brass", "price_each": "4", "count": "2"})
    assert HolderOrder.objects.get(material="brass", count=2).price == 8
    page = owner_client.post(at("order-edit", order.pk), {"design": order.design_id, "count": "2", "material": "tin"})
    assert page.context["form"].errors.keys() == {"price_each"}
    assert "Save it without a price" not in owner_client.get(at("order-new")).text


def test_who_sees_no_money_is_not_asked_for_a_price(hand, order):
    said = {"customer": "Vera Thorne", "phone": "555 0108", "design": order.design_id, "count": "1"}
    hand.post(at("order-new"), said | {"material": "brass"})
    assert HolderOrder.objects.get(material="brass").price is None


def test_without_an_address_the_page_asks_where_the_pieces_go(owner_client, order, owner):
    Customer.objects.update(address="")
    steps.forward(order=order, seen="make")
    add_piece(order=order, sizes={"outside_diameter": 26.0}, by=owner)
    steps.forward(order=order, seen="check")
    assert "Collected by hand?" in owner_client.get(order.get_absolute_url()).text
    assert step(owner_client, order) == "send"
    assert owner_client.post(at("order-address", order.pk), {"address": " "}).status_code == 422
    assert step(owner_client, order, "collected") == "sent"
    assert "Collected by hand" in owner_client.get(order.get_absolute_url()).text
    assert step(owner_client, order, "back") == "send"
    assert not order.by_hand
    page = owner_client.post(at("order-address", order.pk), {"address": "7 Tansy Row"}, follow=True)
    assert "To Oda Fenwright, 7 Tansy Row." in page.text
    owner_client.post(at("order-address", order.pk), {"address": "elsewhere"})
    assert Customer.objects.get().address == "7 Tansy Row"
    assert step(owner_client, order) == "sent"


def test_before_the_first_design_the_order_leads_to_designing_one(owner_client):
    page = owner_client.get(at("order-new"))
    assert "No holder is designed yet" in page.text
    assert reverse("parts:holders") in page.text


def test_a_dimension_is_called_the_same_at_the_bench_and_on_the_delivery_note(owner_client, order, owner):
    Customer.objects.update(language="en")
    steps.forward(order=order, seen="make")
    add_piece(order=order, sizes={"channel_axis": 1.6}, by=owner)
    words = "Stem channel, from the dial side to its axis"
    assert words in owner_client.get(order.get_absolute_url()).text
    assert words in pdf_words(owner_client.get(at("order-paper", order.pk, "delivery-note")).content)


def test_with_all_pieces_good_the_measuring_is_folded_and_what_follows_leads(owner_client, order):
    step(owner_client, order)
    one = measured(owner_client, order, **RIGHT).text
    assert '<button class="primary">Save this piece</button>' in one
    assert "Measure another piece" not in one
    every = measured(owner_client, order, **RIGHT).text
    folded = every.partition("<summary>Measure another piece</summary>")[2].partition("</details>")[0]
    assert "<button>Save this piece</button>" in folded
    assert every.count("Save this piece") == 1
    assert 'class="primary" name="do" value="on">Checked</button>' in every
    wrong = measured(owner_client, order, outside_diameter="wide").text
    assert '<details class="more" open>' in wrong
