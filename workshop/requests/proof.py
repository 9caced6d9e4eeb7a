"""What asks for the password once more, and what of it is written into the log of accounts."""

from django.shortcuts import render

from workshop.accounts import access_log, proof

PROVEN = {
    *("people", "person", "person-away", "person-link", "person-steps"),
    *("code-app", "code-app-remove", "passkey-add", "passkey-remove", "recovery-codes"),
    *("export", "jobs:customer-export", "jobs:customer-erase"),
}
"""Addresses that take nothing unless the password was typed lately: accounts, second steps, data taken or erased."""
NOTED = {
    "export": access_log.Kind.EXPORTED,
    "jobs:customer-export": access_log.Kind.GIVEN_OUT,
    "jobs:customer-erase": access_log.Kind.ERASED,
}
_OWN = ("proof", "csrfmiddlewaretoken")


class Proof:
    """Ask for the password on a page that carries on what was typed. Stands behind the CSRF check."""

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        response = self.get_response(request)
        match = request.resolver_match
        if request.method == "POST" and match and response.status_code < 400 and match.view_name in NOTED:
            about = f"customer {match.kwargs['pk']}" if "pk" in match.kwargs else ""
            access_log.note(NOTED[match.view_name], request=request, about=about)
        return response

    def process_view(self, request, view, args, kwargs):
        if request.method != "POST" or request.resolver_match.view_name not in PROVEN or proof.is_fresh(request):
            return None
        form = proof.ProofForm(request.POST if "proof" in request.POST else None, request=request)
        if form.is_valid():
            proof.mark(request)
            return None
        status = 429 if form.wait else 422
        return render(request, "workshop/proof.html", {"form": form, "typed": typed_in(request)}, status=status)


def typed_in(request):
    """What was typed, as (name, value), for a page that carries it on."""
    return [(name, value) for name, values in request.POST.lists() if name not in _OWN for value in values]
