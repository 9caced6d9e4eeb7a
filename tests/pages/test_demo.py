"""The demo workshop: alive, in order of its days, and drawn small."""

import re
from io import StringIO

import pytest
from django.core.management import call_command
from django.urls import reverse
from django.utils import timezone

from jobs.models import Customer, Job, Order, Photo, Shop
from jobs.options.keeping import is_own
from parts.models import Pairing

pytestmark = pytest.mark.django_db


def test_the_demo_is_alive_and_in_order(settings, files, owner_client):
    settings.DIALSIDE_DEMO = True
    told = StringIO()
    call_command("loaddemo", verbosity=0, stdout=told)
    settings.DIALSIDE_DEMO = False
    _it_tells_as_many_as_its_pages_show(told.getvalue(), owner_client)
    _every_watch_has_its_picture_drawn_small()
    _numbers_follow_the_days()
    _the_shop_its_customers_and_what_it_waits_for_are_there()
    _one_watch_keeps_its_own_seconds_hand()
    assert not Pairing.objects.exclude(what_if={}).exists()


def _it_tells_as_many_as_its_pages_show(told, client):
    fit_checks, watches, past = map(int, re.findall(r"\d+", told))
    assert watches == client.get("/").text.count('class="bench-job"')
    assert fit_checks == client.get(reverse("parts:pairings")).text.count('name="pairing"')
    assert past == Job.objects.exclude(state=Job.State.OPEN).count()


def _every_watch_has_its_picture_drawn_small():
    for job in Job.objects.all():
        sizes = [photo.file.size for photo in job.photos.all()]
        assert sizes
        assert max(sizes) < 30_000
    assert not Photo.objects.filter(caption="").exists()


def _numbers_follow_the_days():
    logged = list(Job.objects.order_by("number").values_list("logged", flat=True))
    assert logged == sorted(logged)
    assert len({day.date() for day in logged}) == len(logged)


def _the_shop_its_customers_and_what_it_waits_for_are_there():
    shop = Shop.objects.get()
    assert shop.name
    assert shop.address
    assert shop.logo
    assert not Customer.objects.filter(phone="").exists()
    waiting = Job.objects.filter(waits_for="parts")
    assert all(job.orders.filter(state="ordered").exists() for job in waiting)
    assert Order.objects.filter(expected__lt=timezone.localdate(), state="ordered").exists()


def _one_watch_keeps_its_own_seconds_hand():
    own = Pairing.objects.get(seconds_hand_from__isnull=False, made_for="")
    assert own.hands != own.seconds_hand_from
    assert own.report["verdict"] == "work"
    job = Job.objects.get(options__pairing__name=own.name, state="open")
    hand = job.options.get().pairing.seconds_hand_from
    assert (hand.name, is_own(hand)) == (own.seconds_hand_from.name, True)
    assert [found.role for found in hand.hands.all()] == [found.role for found in own.seconds_hand_from.hands.all()]
