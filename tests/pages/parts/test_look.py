"""The page of the dial as it will be."""

import io
import re

import pytest
from django.core.files.base import ContentFile
from django.urls import reverse
from PIL import Image

from parts.fit import check_sheet
from parts.fit.drawings.look import look_side
from parts.models import Pairing
from parts.sheets import sheet_of
from tests.factories import CaseFactory, PairingFactory
from tests.picture.kept import HOLE, PLANE

pytestmark = pytest.mark.django_db


def test_it_shows_the_hands_in_their_shape_at_a_time(owner_client):
    pairing = PairingFactory()
    pairing.hands.shape, pairing.hands.colour = "dauphine", "gilt"
    pairing.hands.save()
    page = owner_client.get(reverse("parts:pairing-look", args=[pairing.pk]), {"at": "195"}).text
    assert "3:15" in page
    assert 'data-hand="hour" transform="rotate(97.5)" class="look-hand look-gilt"' in page
    assert "not promised" in page


@pytest.mark.parametrize("at", ["", "noon", "-5", "99999999", "1e3", "٣"])
def test_a_time_that_is_none_is_ten_past_ten(owner_client, at):
    page = owner_client.get(reverse("parts:pairing-look", args=[PairingFactory().pk]), {"at": at})
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
    page = owner_client.get(reverse("parts:pairing-look", args=[pairing.pk])).text
    picture = pairing.dial.pictures.get()
    assert f'href="{reverse("parts:picture-flat", args=[picture.pk])}"' in page
    picture.archived = True
    picture.save()
    assert "<image" not in owner_client.get(reverse("parts:pairing-look", args=[pairing.pk])).text


def accepted(key, *values):
    return {"key": key, "values": list(values), "proposed": False}


def pictured(part, subject, picks, **more):
    """A picture of a part, all white, with what is picked on it."""
    out = io.BytesIO()
    Image.new("RGB", (973, 973), "white").save(out, "JPEG")
    picture = part.pictures.create(subject=subject, file="pictures/a.jpg", plane=PLANE, picks=picks, **more)
    picture.flat.save("flat.jpg", ContentFile(out.getvalue()))
    return picture


OUTLINE = [[0.0, -11.0], [0.5, 0.0], [-0.5, 0.0]]


def test_a_hand_of_no_chosen_shape_is_cut_out_of_its_own_picture(owner_client):
    pairing = PairingFactory()
    picture = pictured(
        pairing.hands, "hand-minute", [accepted("hole", 0.0, 0.0, 0.4), accepted("tip.0", 0.0, -11.0)], outline=OUTLINE
    )
    address = reverse("parts:pairing-look", args=[pairing.pk])
    page = owner_client.get(address).text
    assert f'<image href="{reverse("parts:picture-flat", args=[picture.pk])}" clip-path="url(#look-cut-minute)"' in page
    assert '<polygon points="0,-11 .5,0 -.5,0"/>' in page
    pairing.hands.shape = "leaf"
    pairing.hands.save()
    assert "look-cut-minute" not in owner_client.get(address).text


def test_a_proposed_outline_is_not_used_before_somebody_looked_at_it(owner_client):
    pairing = PairingFactory()
    picks = [accepted("hole", 0.0, 0.0, 0.4) | {"proposed": True}, accepted("tip.0", 0.0, -11.0)]
    pictured(pairing.hands, "hand-minute", picks, outline=OUTLINE)
    assert "look-cut" not in owner_client.get(reverse("parts:pairing-look", args=[pairing.pk])).text


def test_the_watch_as_it_came_stands_beside_it_also_for_a_copy_of_its_case(owner_client):
    pairing = PairingFactory()
    picks = [accepted("axis.0", 0.0, 0.0), accepted("twelve.0", 3.0, 0.0)]
    family_case = CaseFactory()
    pairing.case.copied_from = family_case
    pairing.case.save()
    pictured(family_case, "watch-front", picks)
    page = owner_client.get(reverse("parts:pairing-look", args=[pairing.pk])).text
    assert "As it came" in page
    assert 'transform="rotate(-90)"' in page


def test_the_look_is_saved_as_a_picture(owner_client):
    pairing = PairingFactory()
    pictured(pairing.dial, "dial-front", [HOLE, accepted("twelve.0", 0.8, -12.0)])
    answer = owner_client.get(reverse("parts:pairing-look-picture", args=[pairing.pk]), {"at": "180"})
    with Image.open(io.BytesIO(answer.content)) as picture:
        assert (picture.format, picture.size) == ("PNG", (1400, 1400))
        pixels = picture.convert("L")
        side = look_side(check_sheet(sheet_of(pairing)))
        below, right = (
            pixels.getpixel((round(700 + 1400 * x / side), round(700 + 1400 * y / side))) for x, y in ((0, 6), (5, 0))
        )
    assert below > 240
    assert right < 200


def test_of_nothing_known_there_is_no_picture(owner_client):
    pairing = Pairing.objects.create(name="Empty")
    assert owner_client.get(reverse("parts:pairing-look-picture", args=[pairing.pk])).status_code == 404


def test_two_fit_checks_are_seen_beside_each_other(owner_client):
    one, other = PairingFactory(), PairingFactory()
    page = owner_client.get(reverse("parts:pairing-compare"), {"pairing": [one.pk, other.pk]}).text
    assert page.count('class="drawing drawing-look"') == 2
    assert len(set(re.findall(r'id="(look-opening[^"]*)"', page))) == 2
