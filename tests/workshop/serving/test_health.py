"""The health page."""

import pytest
from django.db import DatabaseError, connection

pytestmark = pytest.mark.django_db


def test_tells_that_all_is_well_and_nothing_of_what_is_kept(client, owner):
    answer = client.get("/health/")
    assert answer.status_code == 200
    assert answer.json() == {"state": "ok", "database": "ok", "version": "2026.11"}
    assert "no-store" in answer["Cache-Control"]


def test_tells_when_the_database_does_not_answer(client, monkeypatch):
    def broken():
        raise DatabaseError("inner workings")

    monkeypatch.setattr(connection, "cursor", broken)
    answer = client.get("/health/")
    assert (answer.status_code, answer.json()["state"]) == (503, "the database does not answer")
    assert "inner workings" not in answer.text


def test_takes_nothing(client):
    assert client.post("/health/").status_code == 405
