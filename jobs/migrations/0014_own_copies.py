"""Copies that jobs have of pairings and parts, told by the job's number behind their names until now, get columns.

A pairing of a job's option is that job's own. A part is where the job's history tells that a copy was made of it; a part
that is only called like one keeps its name. What it was copied from is the oldest of its name without the number.
"""

from django.db import migrations

PARTS = ("case", "dial", "movement", "hands", "stem", "crown")
LONGEST = 66
"""Letters of the original's name that a copy's name holds."""


def carry_over(apps, editor):
    alias = editor.connection.alias

    def rows(app, name):
        return apps.get_model(app, name).objects.using(alias)

    jobs = dict(rows("jobs", "Job").values_list("pk", "number"))
    made = rows("jobs", "Event").filter(kind="own-copy").values_list("job", "what")
    copied = {(job, what.rpartition(" ")[2]) for job, what in made.iterator()}
    own, changed, stripped = {}, set(), {}
    options = rows("jobs", "Option").select_related("pairing").order_by("pk")
    for option in options.iterator():
        number, pairing = jobs[option.job_id], option.pairing
        candidates = [("Pairing", pairing)] + [
            (type(part).__name__, part)
            for name in PARTS
            if (option.job_id, name) in copied and (part := getattr(pairing, name))
        ]
        for model, record in candidates:
            if record.name.endswith(f", {number}"):
                name = record.name.removesuffix(f", {number}")
                own[model, record.pk], stripped[model, record.name] = (name, number), name
                changed.add(option.job_id)
    for (model, pk), (name, number) in own.items():
        while (model, name) in stripped:
            name = stripped[model, name]
        rows("parts", model).filter(pk=pk).update(name=name, made_for=number)
    for model, pk in own:
        records = rows("parts", model)
        name = records.get(pk=pk).name
        named = {"name__startswith": name} if len(name) == LONGEST else {"name": name}
        original = records.filter(made_for="", **named).order_by("pk").first()
        if original:
            records.filter(pk=pk).update(copied_from=original)
    stale = apps.get_model("jobs", "StaleRecord")
    stale.objects.using(alias).bulk_create((stale(job_id=job) for job in sorted(changed)), batch_size=1000)


class Migration(migrations.Migration):
    dependencies = [("jobs", "0013_signed_quotes"), ("parts", "0006_own_copies")]

    operations = [migrations.RunPython(carry_over, migrations.RunPython.noop)]
