"""Fixtures for every test."""

import pytest

from tests.factories import UserFactory


@pytest.fixture(autouse=True)
def files(settings, tmp_path):
    """A folder of its own for the photos and papers of each test."""
    settings.MEDIA_ROOT = tmp_path
    return tmp_path


@pytest.fixture
def owner(db):
    """The workshop's owner."""
    return UserFactory(username="owner", is_staff=True, is_superuser=True)


@pytest.fixture
def bench(client, owner):
    """A test client signed in as the owner."""
    client.force_login(owner)
    return client
