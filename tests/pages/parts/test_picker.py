"""Finding a part by typing some of its name."""

import pytest
from django.urls import reverse

from tests.factories import HandSetFactory, MovementFactory, PairingFactory

pytestmark = pytest.mark.django_db


def hits(client, kind, words, **more):
    return client.get(reverse("parts:pick", args=[kind]), {"name": "x", "x-words": words} | more).text


def test_every_word_narrows_and_each_hit_is_a_button_with_its_key(owner_client):
    wanted = MovementFactory(name="Wick high posts")
    MovementFactory(name="Wick three-hand")
    page = hits(owner_client, "movements", "wick high")
    assert f'value="x:{wanted.pk}"' in page
    assert page.count("data-pick") == 1


def test_no_more_than_eight_are_offered_and_that_is_said(owner_client):
    MovementFactory.create_batch(9, name="Wick")
    page = hits(owner_client, "movements", "wick")
    assert page.count("data-pick") == 8
    assert "Type more letters" in page


def test_nothing_is_like_that(owner_client):
    assert "No movement found for “zzz”." in hits(owner_client, "movements", "zzz")


def test_archived_parts_and_sets_without_the_hand_are_left_out(owner_client):
    MovementFactory(name="Gone", archived=True)
    assert "data-pick" not in hits(owner_client, "movements", "gone")
    two = HandSetFactory(name="Two hands")
    two.hands.filter(role="seconds").delete()
    assert "data-pick" in hits(owner_client, "hand-sets", "two")
    assert "data-pick" not in hits(owner_client, "hand-sets", "two", role="seconds")


def test_a_button_of_a_hit_chooses_without_a_script(owner_client):
    movement = MovementFactory()
    page = owner_client.post(reverse("parts:pairing-new"), {"movement": "", "pick": f"movement:{movement.pk}"})
    assert page.context["form"].instance.movement == movement
    back = owner_client.post(reverse("parts:pairing-new"), {"movement": movement.pk, "pick": "movement:"})
    assert back.context["form"].instance.movement is None


def test_words_that_fit_one_part_choose_it_and_others_are_asked_about(owner_client):
    movement = MovementFactory(name="Ember wide")
    page = owner_client.post(reverse("parts:pairing-new"), {"movement-words": "ember"})
    assert page.context["form"].instance.movement == movement
    MovementFactory(name="Ember slim")
    page = owner_client.post(reverse("parts:pairing-new"), {"movement-words": "ember"})
    assert "Choose one of the movements found for “ember”, or clear the box." in page.text
    assert page.text.count("data-pick") == 2


def test_a_page_with_many_parts_stays_small(owner_client):
    pairing = PairingFactory()
    address = reverse("parts:pairing", args=[pairing.pk])
    few = len(owner_client.get(address).content)
    MovementFactory.create_batch(300)
    assert len(owner_client.get(address).content) - few < 500
