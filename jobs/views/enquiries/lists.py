"""The enquiries that wait, and a new one."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.http import require_GET

from jobs.enquiries import answering
from jobs.enquiries.forms import EnquiryForm
from jobs.enquiries.listing import groups
from jobs.enquiries.mail import as_read
from jobs.enquiries.reading import holder_in, read


@require_GET
def enquiries(request):
    """The enquiries by what they wait for."""
    return render(request, "jobs/enquiries/list.html", {"groups": groups()})


def new(request):
    """An enquiry as it comes in: typed, or read from a pasted message."""
    if request.POST.get("do") == "read":
        words = as_read(request.POST.get("words", "").replace("\0", ""))[:8000]
        said = read(words)
        typed = {name: request.POST[name] for name in EnquiryForm.base_fields if request.POST.get(name)}
        form = EnquiryForm(initial=typed | {"words": words} | said)
        context = {"form": form, "was_read": True, "read": bool(said), "empty": not words.strip()}
        context["holder"] = holder_in(words)
        return render(request, "jobs/enquiries/new.html", context)
    form = EnquiryForm(request.POST or None)
    if form.is_valid():
        made = answering.take_down(
            by=request.user,
            customer=form.cleaned_data["customer"],
            family_name=form.cleaned_data["family"],
            entry=form.cleaned_data["code"],
            **{name: form.cleaned_data[name] for name in form.Meta.fields},
        )
        messages.success(request, lazy("The enquiry is taken down. Answer it here."))
        return redirect(made)
    return render(request, "jobs/enquiries/new.html", {"form": form}, status=422 if form.is_bound else 200)
