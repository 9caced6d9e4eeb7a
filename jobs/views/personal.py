"""One customer's personal data: given out, and erased on request."""

from django import forms
from django.contrib import messages
from django.http import FileResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST

from jobs.models import Customer
from jobs.personal.erase import JobOpenError, erase
from jobs.personal.held import held, personal_file


class EraseForm(forms.Form):
    """The name once more, and what else is to go."""

    empty_texts = forms.BooleanField(
        required=False,
        label="Empty the free texts of the jobs too",
        help_text="Wish, what came with the watch, what must be kept, serial number, remarks, notes, captions, outcome "
        "and what the history tells of them. Without it they stay, and only the particulars are taken out of them.",
    )
    drop_photos = forms.BooleanField(
        required=False,
        label="Remove the photos of the jobs too",
        help_text="Tick it where a photo shows a person, an address or an engraved name.",
    )
    name = forms.CharField(label="The customer's name, to confirm", widget=forms.TextInput({"autocomplete": "off"}))

    def __init__(self, *args, customer, **kwargs):
        super().__init__(*args, **kwargs)
        self.customer = customer

    def clean_name(self):
        typed = " ".join(self.cleaned_data["name"].split())
        if typed != " ".join(self.customer.name.split()):
            raise forms.ValidationError(f"“{typed}” is not the name. Type it as it stands above: {self.customer.name}")
        return typed

    def run(self, *, by):
        """Erase; returns whether it was done, with the reason on the form where not."""
        choices = {name: self.cleaned_data[name] for name in ("empty_texts", "drop_photos")}
        try:
            erase(customer=self.customer, by=by, **choices)
        except JobOpenError as refusal:
            self.add_error(None, str(refusal))
            return False
        return True


@never_cache
@require_POST
def give_out(request, pk):
    """Everything that is held on a customer, as a download."""
    found = get_object_or_404(Customer, pk=pk)
    name = f"dialside-customer-{found.pk}.zip"
    return FileResponse(personal_file(found), as_attachment=True, filename=name, content_type="application/zip")


@never_cache
def erase_customer(request, pk):
    """Tell what goes and what stays, and erase once the name is typed."""
    found = get_object_or_404(Customer, pk=pk)
    if found.is_erased:
        messages.info(request, "The personal data of this customer are erased already.")
        return redirect(found)
    form = EraseForm(request.POST or None, customer=found)
    if form.is_valid() and form.run(by=request.user):
        messages.success(request, f"The personal data are erased; the jobs stay under “{found.erased_name}”.")
        return redirect(found)
    context = {"customer": found, "form": form, "held": held(found)}
    return render(request, "jobs/customer_erase.html", context, status=422 if form.is_bound else 200)
