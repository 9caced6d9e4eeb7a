"""A database as an earlier program left it, and what this one makes of it."""

from django.db import connection
from django.db.migrations.executor import MigrationExecutor


def migrated(state):
    """Take the database to a state of the migrations, forth or back; returns its models, by app and name."""
    executor = MigrationExecutor(connection)
    executor.migrate(state)
    return MigrationExecutor(connection).loader.project_state(state).apps


def newest():
    """Take the database to the newest state."""
    executor = MigrationExecutor(connection)
    executor.migrate(executor.loader.graph.leaf_nodes())
