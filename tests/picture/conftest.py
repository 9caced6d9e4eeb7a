"""The plane of the one rendered picture."""

import pytest

from tests.picture.dial import its_plane


@pytest.fixture(scope="session")
def plane(picture):
    return its_plane(picture)
