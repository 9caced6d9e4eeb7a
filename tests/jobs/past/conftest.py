"""Thousands of past jobs, made once for a file of tests and gone after it."""

import pytest
from django.db import connection, transaction

from tests.factories import UserFactory
from tests.jobs.past.generate import generate_records


@pytest.fixture(scope="module")
def thousands(django_db_setup, django_db_blocker):
    """5,000 past jobs that every test of the file sees."""
    with django_db_blocker.unblock(), transaction.atomic():
        by = UserFactory(username="generator")
        generate_records(5000, by=by)
        connection.cursor().execute("ANALYZE")  # what a database does by itself after a while
        yield by
        transaction.set_rollback(True)
