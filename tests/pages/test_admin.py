"""The maintenance pages of the library."""

import pytest

from tests.pages.test_library import FACTORIES

NAMES = {slug: slug.replace("-", "").removesuffix("s") for slug in FACTORIES} | {"case-families": "casefamily"}


@pytest.mark.parametrize("slug", FACTORIES)
def test_each_kind_is_listed_searched_and_opened(bench, slug):
    record = FACTORIES[slug](name="wanted one")
    FACTORIES[slug](name="another")
    page = bench.get(f"/admin/parts/{NAMES[slug]}/", {"q": "wanted"})
    assert [found.pk for found in page.context["cl"].result_list] == [record.pk]
    assert bench.get(f"/admin/parts/{NAMES[slug]}/{record.pk}/change/").status_code == 200
