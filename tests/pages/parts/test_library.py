"""The library's index, lists and detail pages."""

import pytest

from parts.library.kinds import KINDS
from parts.models import Stem
from tests.factories import (
    CaseFactory,
    CaseFamilyFactory,
    CrownFactory,
    DialFactory,
    HandSetFactory,
    MovementFactory,
    PairingFactory,
    StemFactory,
)
from tests.reading import as_read

FACTORIES = {
    "case-families": CaseFamilyFactory,
    "cases": CaseFactory,
    "dials": DialFactory,
    "movements": MovementFactory,
    "hand-sets": HandSetFactory,
    "stems": StemFactory,
    "crowns": CrownFactory,
}


def words(response):
    return as_read(response.text)


def test_the_index_counts_what_lies_in_the_drawers(owner_client):
    CaseFactory.create_batch(2, family=None)
    CaseFactory(family=None, archived=True)
    shelves = {shelf["kind"].slug: shelf["count"] for shelf in owner_client.get("/parts/").context["shelves"]}
    assert shelves == dict.fromkeys(KINDS, 0) | {"cases": 2}


def test_the_index_finds_parts_of_every_kind(owner_client):
    case = CaseFactory(name="36 mm", family__name="Tern")
    movement = MovementFactory(name="thin", notes="fits a tern")
    CrownFactory(name="gull")
    page = owner_client.get("/parts/", {"q": " TERN "})
    hits = {shelf["kind"].slug: list(shelf["hits"]) for shelf in page.context["shelves"] if shelf["count"]}
    assert hits == {"case-families": [case.family], "cases": [case], "movements": [movement]}
    assert f'href="/parts/cases/{case.pk}/"' in page.text
    assert "gull" not in page.text


def test_every_word_of_a_search_must_be_found(owner_client):
    wanted = CaseFactory(name="36 mm", family__name="Tern")
    CaseFactory(name="40 mm", family=wanted.family)
    page = owner_client.get("/parts/cases/", {"q": "tern 36"})
    assert [line["record"] for line in page.context["lines"]] == [wanted]


@pytest.mark.parametrize("words", ["\0", "%", "'", "x" * 5000, "x" * 100_000])
def test_no_search_breaks_the_page(owner_client, words):
    StemFactory(name="stem")
    assert owner_client.get("/parts/", {"q": words}).status_code == 200
    assert owner_client.get("/parts/stems/", {"q": words, "page": "x"}).status_code == 200


@pytest.mark.parametrize("slug", KINDS)
def test_each_kind_has_its_list_and_a_line_says_what_is_measured(owner_client, slug):
    record = FACTORIES[slug](name="abc <1>")
    page = owner_client.get(f"/parts/{slug}/")
    assert f'href="/parts/{slug}/{record.pk}/"' in page.text
    assert "abc &lt;1&gt;" in page.text
    assert words(page).count("<tr>") == 2


def test_a_list_shows_dimensions_with_units_and_marks_those_not_measured(owner_client):
    CaseFactory(bore_diameter=27.4, bore_diameter_pm=0.02, back_depth=None, in_stock=0)
    page = words(owner_client.get("/parts/cases/"))
    assert '<td class="number" data-th="Bore diameter">27.40 ±0.02 mm</td>' in page
    assert '<span class="unmeasured">not measured</span>' in page
    assert '<td data-th="Measured">9 of 13</td>' in page
    assert '<td class="number" data-th="In stock">0</td>' in page


def test_a_list_of_hand_sets_tells_no_seconds_hand_from_an_unmeasured_one(owner_client):
    HandSetFactory(seconds=False)
    page = words(owner_client.get("/parts/hand-sets/"))
    assert '<td class="number" data-th="Hour hand length">8.00 mm</td>' in page
    assert 'data-th="Seconds hand length">none</td>' in page


def test_a_long_list_has_pages_that_keep_the_search(owner_client):
    StemFactory.create_batch(51, notes="long")
    first = owner_client.get("/parts/stems/", {"q": "long"})
    assert len(first.context["lines"]) == 50
    assert "Page 1 of 2, 51 in all" in first.text
    assert 'href="?q=long&amp;page=2"' in first.text
    assert len(owner_client.get("/parts/stems/", {"q": "long", "page": 2}).context["lines"]) == 1


def test_put_away_parts_are_listed_apart(owner_client):
    StemFactory(name="kept")
    StemFactory(name="gone", archived=True)
    assert "gone" not in owner_client.get("/parts/stems/").text
    away = owner_client.get("/parts/stems/", {"away": "1"}).text
    assert "gone" in away
    assert "kept" not in away


@pytest.mark.parametrize("slug", ["cases", "dials", "movements", "hand-sets"])
def test_lists_take_a_fixed_number_of_queries(owner_client, slug, django_assert_num_queries):
    FACTORIES[slug].create_batch(2)
    with django_assert_num_queries(4 + {"cases": 0, "dials": 2, "movements": 1, "hand-sets": 1}[slug]):
        owner_client.get(f"/parts/{slug}/")
    FACTORIES[slug].create_batch(5)
    with django_assert_num_queries(4 + {"cases": 0, "dials": 2, "movements": 1, "hand-sets": 1}[slug]):
        owner_client.get(f"/parts/{slug}/")


@pytest.mark.parametrize("slug", KINDS)
def test_each_kind_has_its_page(owner_client, slug):
    record = FACTORIES[slug](notes="first line\nsecond line")
    page = owner_client.get(f"/parts/{slug}/{record.pk}/")
    assert f"<h1>{record}</h1>" in page.text
    assert "first line<br>second line" in page.text


def test_a_page_shows_every_dimension_with_plus_minus_unit_and_source(reader):
    case = CaseFactory(bore_diameter=25.6, bore_diameter_source="s", crystal_gap_edge=None)
    page = words(reader.get(f"/parts/cases/{case.pk}/"))
    bore = '<td class="number">25.60 ±0.02 mm<small>about 11 1/4&#x27;&#x27;&#x27;</small></td>'
    assert f'{bore}<td class="from">maker&#x27;s sheet</td>' in page
    assert '<td class="number">90°</td>' in page
    assert '<td class="number"><span class="unmeasured">not measured</span></td><td class="from"></td>' in page
    assert "from the back" in page
    assert "10 of 13 dimensions known" in page


def test_a_dials_page_shows_its_rows_and_only_a_window_that_it_has(owner_client):
    plain = owner_client.get(f"/parts/dials/{DialFactory(feet=False, feet_recorded=False).pk}/").text
    dated = owner_client.get(f"/parts/dials/{DialFactory(dated=True).pk}/").text
    assert "Feet: not checked yet." in plain
    assert "Window radius" not in plain
    assert "235°" in dated
    assert "markers" in dated
    assert "Window radius" in dated


def test_a_page_says_where_a_part_is_used(owner_client):
    pairing = PairingFactory(name="quartz in a Tern")
    family = pairing.case.family
    case = words(owner_client.get(f"/parts/cases/{pairing.case.pk}/"))
    assert f'<a href="/parts/pairings/{pairing.pk}/">quartz in a Tern</a>' in case
    assert f'href="/parts/cases/{pairing.case.pk}/"' in owner_client.get(f"/parts/case-families/{family.pk}/").text
    assert "In no fit check." in owner_client.get(f"/parts/stems/{StemFactory().pk}/").text


def test_a_detail_page_takes_a_fixed_number_of_queries(owner_client, django_assert_num_queries):
    few = DialFactory(feet=False)
    many = PairingFactory().dial
    with django_assert_num_queries(6):
        owner_client.get(f"/parts/dials/{few.pk}/")
    with django_assert_num_queries(6):
        owner_client.get(f"/parts/dials/{many.pk}/")


def test_a_part_is_put_away_and_brought_back(owner_client):
    stem = StemFactory()
    page = owner_client.post(f"/parts/stems/{stem.pk}/put-away/", follow=True)
    stem.refresh_from_db()
    assert stem.archived
    assert "is archived" in page.text
    page = owner_client.post(f"/parts/stems/{stem.pk}/bring-back/", follow=True)
    stem.refresh_from_db()
    assert not stem.archived
    assert "is back in the library" in page.text


@pytest.mark.parametrize("action", ["put-away", "bring-back", "copy"])
def test_nothing_changes_by_following_a_link(owner_client, action):
    stem = StemFactory()
    assert owner_client.get(f"/parts/stems/{stem.pk}/{action}/").url == f"/parts/stems/{stem.pk}/"
    assert list(Stem.objects.values_list("pk", "archived")) == [(stem.pk, False)]


@pytest.mark.parametrize(
    "address",
    ["/parts/screws/", f"/parts/stems/{10**30}/", "/parts/stems/9/", "/parts/stems/9/edit/", "/parts/stems/x/"],
)
def test_what_is_not_there_is_not_found(owner_client, address):
    assert owner_client.get(address).status_code == 404


@pytest.mark.parametrize("address", ["/parts/", "/parts/cases/", "/parts/cases/add/", "/parts/cases/export/"])
def test_the_library_is_for_those_who_signed_in(client, owner, address):
    assert client.get(address).url.startswith("/sign-in/")
