"""One bad record, however it came into the database, never breaks a page for everybody: it is shown as such."""

import warnings

import pytest
from django.urls import reverse

from jobs.options import choosing
from parts.models import Hand, Movement, Stem
from tests.factories import HandSetFactory, JobFactory, MovementFactory, PairingFactory, StemFactory

pytestmark = pytest.mark.django_db

NUMBERS = [1e-200, 1e308, float("inf"), -5.0]


def stored(record, name, value):
    """A number put past the door, as an older program or another hand may have done."""
    type(record).objects.filter(pk=record.pk).update(**{name: value})


@pytest.fixture(autouse=True)
def strict():
    with warnings.catch_warnings():
        warnings.simplefilter("error", RuntimeWarning)
        yield


@pytest.mark.parametrize("value", [pytest.param(each, marks=pytest.mark.long) for each in NUMBERS[:2]] + NUMBERS[2:])
def test_no_number_of_a_movement_breaks_a_list_or_a_ranking(owner_client, owner, value):
    good = MovementFactory(name="good")
    asking = PairingFactory(movement=good)
    parts = {part: getattr(asking, part) for part in ("case", "dial", "hands", "stem", "crown")}
    pages = set()
    for name in Movement.dimensions:
        bad = MovementFactory(name=f"bad {name}")
        stored(bad, name, value)
        holding = PairingFactory(movement=bad, **parts)
        pages |= {reverse("parts:pairing", args=[holding.pk]), f"/parts/movements/{bad.pk}/"}
        pages |= {f"{reverse('parts:pairing-compare')}?pairing={asking.pk}&pairing={holding.pk}"}
    job = JobFactory()
    choosing.add_option(job=job, pairing=PairingFactory(**parts, movement=good), by=owner)
    given = f"case={asking.case_id}&dial={asking.dial_id}&hands={asking.hands_id}"
    pages |= {f"{reverse('parts:goes-in-movements')}?{given}", reverse("parts:goes-in-table"), job.get_absolute_url()}
    pages |= {reverse("parts:pairings"), "/parts/movements/", "/parts/movements/export/"}
    assert {url: status for url in pages if (status := owner_client.get(url).status_code) != 200} == {}


@pytest.mark.parametrize("value", NUMBERS)
def test_the_ranking_shows_the_bad_one_as_such_and_ranks_the_others(owner_client, value):
    MovementFactory(name="good one")
    stored(MovementFactory(name="bad one"), "back_height", value)
    asking = PairingFactory()
    url = f"{reverse('parts:goes-in-movements')}?case={asking.case_id}&dial={asking.dial_id}"
    text = owner_client.get(url, follow=True).text
    assert "good one" in text
    assert "bad one" in text


@pytest.mark.parametrize(("factory", "model", "name"), [(StemFactory, Stem, "length"), (HandSetFactory, Hand, "mass")])
@pytest.mark.parametrize("value", NUMBERS)
def test_neither_do_stems_and_hands(owner_client, factory, model, name, value):
    record = factory(name="bad one")
    model.objects.update(**{name: value})
    asking = PairingFactory()
    kind = "stems" if model is Stem else "hand-sets"
    given = f"case={asking.case_id}&dial={asking.dial_id}&movement={asking.movement_id}"
    url = f"{reverse('parts:goes-in', args=[kind])}?{given}"
    assert owner_client.get(url, follow=True).status_code == 200
    assert owner_client.get(f"/parts/{kind}/{record.pk}/").status_code == 200
