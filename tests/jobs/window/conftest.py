"""One published folder for a whole module."""

import pytest

from tests.jobs.window.published import published as publish_demo


@pytest.fixture(scope="module")
def published(django_db_setup, django_db_blocker, tmp_path_factory):
    """The demo's site, published once; nothing of it is left in the database."""
    with django_db_blocker.unblock():
        return publish_demo(tmp_path_factory.mktemp("window"))
