"""A database as an earlier program left it, and what this one makes of it."""

import sqlite3

from django.core.management import call_command
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

_COPIES: dict[str, sqlite3.Connection] = {}
"""On SQLite: the empty database as it stood in each state that was reached, so that the way there is gone once."""


def at(state):
    """The models of a state of the migrations, by app and name, in an empty database that stands there."""
    _once("newest", lambda: None)
    _once(repr(state), lambda: _step_by_step().migrate(state))
    return _step_by_step().loader.project_state(state).apps


def newest():
    """Take the database to the newest state."""
    executor = _step_by_step()
    at_once = executor.loader.replacements
    executor.migrate([step for step in executor.loader.graph.leaf_nodes() if step not in at_once])


def _step_by_step():
    """What goes through all the steps of an older workshop, not at once as a new one does."""
    executor = MigrationExecutor(connection)
    executor.loader.replace_migrations = False
    executor.loader.build_graph()
    return executor


def leave():
    """Put the database back as it was before an earlier state was asked for; a server's is left empty."""
    _once("newest", newest)
    if connection.vendor != "sqlite":
        call_command("flush", interactive=False, verbosity=0)


def _once(name, reach):
    """Bring the database into a named state: by its copy, or else as `reach` does, which is copied then."""
    if connection.vendor != "sqlite":
        return reach()
    connection.ensure_connection()
    if name in _COPIES:
        return _COPIES[name].backup(connection.connection)
    reach()
    _COPIES[name] = sqlite3.connect(":memory:")
    return connection.connection.backup(_COPIES[name])
