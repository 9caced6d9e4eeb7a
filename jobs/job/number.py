"""Job numbers: short, in sequence by year, and never given twice."""

from django.db import transaction

from jobs.models import JobNumber


@transaction.atomic
def next_number(year):
    """The next job number of a year, such as 26-014; the year's row stays locked until the transaction ends."""
    JobNumber.objects.get_or_create(year=year)
    row = JobNumber.objects.select_for_update().get(year=year)
    row.last += 1
    row.save(update_fields=["last"])
    return f"{year % 100:02d}-{row.last:03d}"
