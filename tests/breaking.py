"""Breaks an action at each of its writes in turn, as a full disk would, and holds that nothing of it stayed."""

import sqlite3
from contextlib import contextmanager

from django.apps import apps
from django.core.files.storage import FileSystemStorage
from django.db import OperationalError, connection

ROOMS = ("jobs", "parts")
KEPT = {"Draft"}
"""What is typed into the intake page is kept on purpose, also where logging the watch fails."""
_WRITES = ("INSERT", "UPDATE", "DELETE")


def everything_saved():
    """All rows of jobs and parts, by model."""
    return {
        model.__name__: list(model._base_manager.order_by("pk").values_list())
        for room in ROOMS
        for model in apps.get_app_config(room).get_models()
        if model.__name__ not in KEPT
    }


class Breaker:
    """Counts the writes of rows and files, and lets the one with the number `at` fail; 0 lets all pass."""

    def __init__(self, at=0):
        self.at, self.count = at, 0

    def step(self, error):
        self.count += 1
        if self.count == self.at:
            raise error

    def run_statement(self, execute, sql, params, many, context):
        if sql.startswith(_WRITES) and any(f'"{room}_' in sql for room in ROOMS):
            self.step(OperationalError(*sqlite3.OperationalError("database or disk is full").args))
        return execute(sql, params, many, context)

    @contextmanager
    def watching(self, monkeypatch):
        """Watch the writes while the block runs."""
        save = FileSystemStorage._save

        def save_file(storage, name, content):
            self.step(OSError(28, "No space left on device"))
            return save(storage, name, content)

        with monkeypatch.context() as patched, connection.execute_wrapper(self.run_statement):
            patched.setattr(FileSystemStorage, "_save", save_file)
            yield


def break_each_write(action, monkeypatch):
    """Run the action with each of its writes failing in turn, then whole; returns how many writes it has.

    `action` sends one form and returns its response.
    """
    before, at = everything_saved(), 0
    while True:
        at += 1
        breaker = Breaker(at)
        with breaker.watching(monkeypatch):
            response = action()
        if breaker.count < at:
            assert response.status_code in (200, 204, 302), response.status_code
            assert everything_saved() != before
            return breaker.count
        assert response.status_code == 503, f"write {at} failed and the answer was {response.status_code}"
        changed = [name for name, rows in everything_saved().items() if rows != before[name]]
        assert changed == [], f"write {at} failed and these stayed changed: {changed}"
