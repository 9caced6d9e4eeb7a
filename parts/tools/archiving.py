"""Archiving as the button of a page asks: what is sent as `do` is "bring-back", or else archives."""


def is_archiving(request):
    """Whether what was sent archives; False brings back."""
    return request.POST.get("do") != "bring-back"


def archive_as_asked(request, record):
    """Archive a record, or bring it back; nothing else of it is saved but the time of its change, where it has one."""
    record.archived = is_archiving(request)
    columns = {field.name for field in record._meta.fields}
    record.save(update_fields=columns & {"archived", "updated"})
