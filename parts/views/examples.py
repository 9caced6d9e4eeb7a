"""Example parts in the workshop: put in, taken off the lists, brought back."""

from django.contrib import messages
from django.shortcuts import redirect
from django.utils.translation import gettext_lazy as lazy

from parts.demo import examples
from parts.tools.sent_only import sent_only


@sent_only("parts:index")
def change(request):
    """Add the examples and open their fit check, or take them off the lists again."""
    if request.POST.get("do") == "remove":
        examples.archive()
        messages.success(request, lazy("The examples are off your lists. This page brings them back."))
        return redirect("parts:index")
    pairing = examples.add()
    messages.success(
        request, lazy("This is a made-up watch. Its parts are marked as examples; Parts library removes them all.")
    )
    return redirect("parts:pairing", pairing.pk)
