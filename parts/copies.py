"""Copies that a job has of a part: named after it, with the job's number behind."""

import re

OWN_COPY = re.compile(r", \d\d-\d{3,9}$")
"""The end of the name of a job's own copy."""


def plain_name(name):
    """The name without the job's number."""
    return OWN_COPY.sub("", name)


def originals(model, records):
    """For each record that is a job's own copy the record it was copied from: {pk of the copy: original}.

    The oldest of its plain name counts; a copy whose original was renamed is left out.
    """
    copies = {record.pk: plain_name(record.name) for record in records if OWN_COPY.search(record.name)}
    if not copies:
        return {}
    found = {one.name: one for one in model.objects.filter(name__in=set(copies.values())).order_by("-pk")}
    return {pk: found[name] for pk, name in copies.items() if name in found}
