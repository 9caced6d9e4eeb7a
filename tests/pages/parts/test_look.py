"""The page of the dial as it will be."""

import pytest
from django.urls import reverse

from tests.factories import PairingFactory
from tests.picture.kept import HOLE, PLANE

pytestmark = pytest.mark.django_db


def test_it_shows_the_hands_in_their_shape_at_a_time(owner_client):
    pairing = PairingFactory()
    pairing.hands.shape, pairing.hands.colour = "dauphine", "gilt"
    pairing.hands.save()
    page = owner_client.get(reverse("parts:look", args=[pairing.pk]), {"at": "195"}).text
    assert "3:15" in page
    assert 'id="look-hour" transform="rotate(97.5)" class="look-hand look-gilt"' in page
    assert "not promised" in page


@pytest.mark.parametrize("at", ["", "noon", "-5", "99999999", "1e3", "٣"])
def test_a_time_that_is_none_is_ten_past_ten(owner_client, at):
    page = owner_client.get(reverse("parts:look", args=[PairingFactory().pk]), {"at": at})
    assert page.status_code == 200
    assert "10:09" in page.text


def test_the_own_dial_lies_under_the_hands(owner_client):
    pairing = PairingFactory()
    pairing.dial.pictures.create(
        subject="dial-front",
        file="pictures/a.jpg",
        flat="pictures/b.jpg",
        plane=PLANE,
        picks=[
            HOLE,
            {"key": "twelve.0", "values": [0.8, -12.0], "proposed": False},
        ],
    )
    page = owner_client.get(reverse("parts:look", args=[pairing.pk])).text
    picture = pairing.dial.pictures.get()
    assert f'href="{reverse("parts:picture-flat", args=[picture.pk])}"' in page
    picture.archived = True
    picture.save()
    assert "<image" not in owner_client.get(reverse("parts:look", args=[pairing.pk])).text
