"""The maintenance pages of the library."""

import pytest
from django.contrib import admin

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


def test_nothing_is_deleted_here(owner_client, owner, rf):
    request = rf.get("/")
    request.user = owner
    for model, pages in admin.site._registry.items():
        inlines = pages.get_inline_instances(request)
        assert not pages.has_delete_permission(request), model
        assert not any(inline.has_delete_permission(request) for inline in inlines), model
        assert "delete_selected" not in pages.get_actions(request), model
    record = FACTORIES["dials"]()
    assert owner_client.post(f"/admin/parts/dial/{record.pk}/delete/", {"post": "yes"}).status_code == 403
    gone = {"action": "delete_selected", "_selected_action": [record.pk], "post": "yes"}
    owner_client.post("/admin/parts/dial/", gone)
    record.refresh_from_db()


@pytest.mark.parametrize(("door", "led"), [("login", "/sign-in/"), ("password_change", "/account/password/")])
def test_the_workshops_own_pages_stand_in_for_those_of_accounts(owner_client, door, led):
    for send in (owner_client.get, owner_client.post):
        response = send(f"/admin/{door}/", {"old_password": "guess"})
        assert (response.status_code, response["Location"]) == (302, led)


def test_signing_out_here_signs_out(owner_client):
    assert owner_client.post("/admin/logout/")["Location"] == "/sign-in/"
    assert owner_client.get("/admin/")["Location"].startswith("/sign-in/")
