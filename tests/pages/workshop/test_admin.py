"""The maintenance pages of the library."""

import pytest

from tests.pages.parts.test_library import FACTORIES

NAMES = {slug: slug.replace("-", "").removesuffix("s") for slug in FACTORIES} | {"case-families": "casefamily"}


@pytest.mark.parametrize("slug", FACTORIES)
def test_each_kind_is_listed_searched_and_opened(owner_client, slug):
    record = FACTORIES[slug](name="wanted one")
    FACTORIES[slug](name="another")
    page = owner_client.get(f"/admin/parts/{NAMES[slug]}/", {"q": "wanted"})
    assert [found.pk for found in page.context["cl"].result_list] == [record.pk]
    assert owner_client.get(f"/admin/parts/{NAMES[slug]}/{record.pk}/change/").status_code == 200


@pytest.mark.parametrize("key", ["24:61", "9" * 30, "-1", "\u00b2"])
def test_a_key_that_names_no_part_is_refused_on_its_field(owner_client, key):
    response = owner_client.post("/admin/parts/pairing/add/", {"name": "Wrong", "case": key, "placement": "auto"})
    assert response.status_code == 200
    assert "case" in response.context["adminform"].form.errors


@pytest.mark.parametrize("name", ["holderdesign", "csvfile"])
def test_what_other_pages_make_is_not_added_here(owner_client, name):
    assert owner_client.get(f"/admin/parts/{name}/").status_code == 200
    assert owner_client.get(f"/admin/parts/{name}/add/").status_code == 403
