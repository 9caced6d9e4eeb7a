"""The bench of an empty workshop, and examples that go again in one step."""

import pytest
from django.urls import reverse

from parts.models import Case, CaseFamily, HandSet, Movement, Pairing
from tests.factories import CaseFactory, JobFactory

pytestmark = pytest.mark.django_db


def bench(client):
    return client.get(reverse("jobs:bench")).text


def test_an_empty_workshop_is_greeted_with_three_ways(owner_client):
    page = bench(owner_client)
    for address in ("parts:quick-new", "parts:examples", "jobs:log"):
        assert reverse(address) in page
    assert page.count('class="button primary"') == 1


def test_with_a_job_the_bench_is_the_bench(owner_client):
    JobFactory()
    assert "A clear bench" not in bench(owner_client)


def test_examples_are_marked_and_go_in_one_step(owner_client):
    own = CaseFactory()
    response = owner_client.post(reverse("parts:examples"), {"do": "add"})
    example = Pairing.objects.get(name="Bramblegate 36 to quartz with date")
    assert response.url == reverse("parts:pairing", args=[example.pk])
    assert str(example.case).endswith(", example")
    assert "example" in str(CaseFamily.objects.get(name__startswith="Bramblegate"))
    assert Movement.objects.in_drawers().count() > 5
    owner_client.post(reverse("parts:examples"), {"do": "remove"})
    assert list(Case.objects.in_drawers()) == [own]
    assert not Movement.objects.in_drawers().exists()
    assert not HandSet.objects.in_drawers().exists()
    assert not Pairing.objects.in_drawers().exists()


def test_examples_come_back_and_never_twice(owner_client):
    for do in ("add", "add", "remove", "add"):
        owner_client.post(reverse("parts:examples"), {"do": do})
    assert Pairing.objects.filter(archived=False).count() == Pairing.objects.count() == 4


def test_the_library_offers_to_remove_them(owner_client):
    assert "Remove the examples" not in owner_client.get(reverse("parts:index")).text
    owner_client.post(reverse("parts:examples"), {"do": "add"})
    assert "Remove the examples" in owner_client.get(reverse("parts:index")).text
