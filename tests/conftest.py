"""Fixtures for every test."""

import pytest

from tests.factories import UserFactory


@pytest.fixture
def owner(db):
    """The workshop's owner."""
    return UserFactory(username="owner", is_staff=True, is_superuser=True)


@pytest.fixture
def bench(client, owner):
    """A test client signed in as the owner."""
    client.force_login(owner)
    return client
