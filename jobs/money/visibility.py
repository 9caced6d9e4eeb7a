"""What is left out of the pages and papers of who sees no money.

`request.sees_money` says whose request it is; templates know it as `sees_money`.
"""

from django.core.exceptions import PermissionDenied


def without_money(records, request):
    """The records that may be shown: those without money, and what the person put in themselves."""
    if request.sees_money:
        return records
    return [record for record in records if not record.has_money or record.by_id == request.user.pk]


def refuse_money(record, request):
    """Raise PermissionDenied for a record that may not be shown."""
    if not without_money([record], request):
        raise PermissionDenied
