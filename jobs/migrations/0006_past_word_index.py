"""The word index of past jobs, kept by the database itself: FTS5 with triggers on SQLite, a GIN index on PostgreSQL."""

from django.db import migrations

SQLITE = (
    """CREATE VIRTUAL TABLE jobs_pasttext_index USING fts5(
        head, body, content='jobs_pasttext', content_rowid='job_id', tokenize="unicode61 remove_diacritics 0",
        prefix='2 3 4')""",
    """CREATE TRIGGER jobs_pasttext_added AFTER INSERT ON jobs_pasttext BEGIN
        INSERT INTO jobs_pasttext_index(rowid, head, body) VALUES (new.job_id, new.head, new.body); END""",
    """CREATE TRIGGER jobs_pasttext_removed AFTER DELETE ON jobs_pasttext BEGIN
        INSERT INTO jobs_pasttext_index(jobs_pasttext_index, rowid, head, body)
        VALUES ('delete', old.job_id, old.head, old.body); END""",
    """CREATE TRIGGER jobs_pasttext_changed AFTER UPDATE ON jobs_pasttext BEGIN
        INSERT INTO jobs_pasttext_index(jobs_pasttext_index, rowid, head, body)
        VALUES ('delete', old.job_id, old.head, old.body);
        INSERT INTO jobs_pasttext_index(rowid, head, body) VALUES (new.job_id, new.head, new.body); END""",
)
POSTGRESQL = (
    """ALTER TABLE jobs_pasttext ADD COLUMN words tsvector GENERATED ALWAYS AS (
        setweight(to_tsvector('simple', head), 'A') || setweight(to_tsvector('simple', body), 'D')) STORED""",
    "CREATE INDEX jobs_pasttext_words ON jobs_pasttext USING gin (words)",
)


def make(apps, editor):
    lay(apps, editor)
    editor.execute("INSERT INTO jobs_toremember (job_id) SELECT id FROM jobs_job")


def lay(apps, editor):
    for statement in SQLITE if editor.connection.vendor == "sqlite" else POSTGRESQL:
        editor.execute(statement)


def drop(apps, editor):
    if editor.connection.vendor == "sqlite":
        for name in ("added", "removed", "changed"):
            editor.execute(f"DROP TRIGGER jobs_pasttext_{name}")
        editor.execute("DROP TABLE jobs_pasttext_index")
    else:
        editor.execute("ALTER TABLE jobs_pasttext DROP COLUMN words")


class Migration(migrations.Migration):
    dependencies = [("jobs", "0005_past_swaps")]
    operations = [migrations.RunPython(make, drop)]
