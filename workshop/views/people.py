"""The owner's pages of all accounts: added, given a role, switched off, signed out."""

from django.contrib import messages
from django.contrib.auth.models import User
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.safestring import mark_safe
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.cache import never_cache

from parts.tools.addresses import address_for_others
from parts.tools.archiving import is_archiving
from parts.tools.qr import qr_svg
from parts.tools.sent_only import sent_only
from parts.tools.stale_guard import for_saving, one_transaction
from workshop.accounts import links, managing, second_step, sessions
from workshop.accounts.access_log import Kind, note
from workshop.accounts.forms import AccountForm, RoleForm
from workshop.accounts.roles import CHOICES, MAY, Role, role_word
from workshop.requests import quota


@never_cache
def people(request):
    """All accounts, and adding one; the link for its password is shown once."""
    form = AccountForm(request.POST or None)
    if form.is_valid():
        token = form.make()
        note(Kind.ACCOUNT_ADDED, request=request, whom=form.instance, about=role_word(form.instance))
        return _link_page(request, form.instance, token)
    holders = second_step.holders()
    lines = [(user, role_word(user), user.pk in holders) for user in User.objects.order_by("-is_active", "username")]
    roles = [(word, MAY[Role[name]]) for name, word in CHOICES]
    context = {"form": form, "lines": lines, "roles": roles}
    return render(request, "workshop/people.html", context, status=422 if form.is_bound else 200)


@one_transaction
def person(request, pk):
    """One account: its role, its devices, and putting it away."""
    user = get_object_or_404(for_saving(request, User.objects.all()), pk=pk)
    form = RoleForm(request.POST or None, initial={"role": _role_name(user)})
    if form.is_valid():
        role = form.cleaned_data["role"]
        if _tell(request, lambda: managing.change_role(user=user, role=role), "Role changed."):
            note(Kind.ROLE_CHANGED, request=request, whom=user, about=f"now {dict(CHOICES)[role.name]}")
        return redirect("person", pk)
    context = {"person": user, "word": role_word(user), "form": form}
    context["devices"] = sessions.devices(user, request.session.session_key)
    context["has_second_step"] = second_step.has_one(user)
    context["uses"] = quota.used(user)
    return render(request, "workshop/person.html", context, status=422 if form.is_bound else 200)


@sent_only("person", "pk")
def put_person_away(request, pk):
    """Put an account away, or bring it back."""
    user, away = get_object_or_404(User, pk=pk), is_archiving(request)
    done = f"Account {user.get_username()} is {'off and signed out' if away else 'on again'}."
    if _tell(request, lambda: managing.put_away(user=user, away=away), done):
        note(Kind.SWITCHED_OFF if away else Kind.SWITCHED_ON, request=request, whom=user)
    return redirect("people" if away else "person", **({} if away else {"pk": pk}))


@never_cache
@sent_only("person", "pk")
def person_link(request, pk):
    """A new link for choosing a password, in the place of a forgotten one."""
    user = get_object_or_404(User, pk=pk, is_active=True)
    note(Kind.LINK_MADE, request=request, whom=user)
    return _link_page(request, user, links.new_link(user))


@sent_only("person", "pk")
def sign_person_out(request, pk):
    """Sign out one device of an account, or all of them."""
    user, wanted = get_object_or_404(User, pk=pk), request.POST.get("device", "")
    if wanted == "all":
        sessions.sign_out_all(user, but=request.session.session_key)
    else:
        sessions.sign_out_device(user, wanted)
    messages.success(request, lazy("Signed out."))
    return redirect("person", pk)


@sent_only("person", "pk")
def remove_person_steps(request, pk):
    """Remove every second step of an account whose phone and codes are lost."""
    user = get_object_or_404(User, pk=pk)
    second_step.remove_all(user)
    note(Kind.STEP_REMOVED, request=request, whom=user, about="all of them")
    messages.success(
        request,
        lazy("{name} signs in with the password alone, and is asked to set up a new one.").format(
            name=user.get_username()
        ),
    )
    return redirect("person", pk)


def _link_page(request, user, token):
    path = reverse("choose-password", args=[token])
    url = address_for_others(request, path) or request.build_absolute_uri(path)
    context = {"person": user, "url": url, "code": mark_safe(qr_svg(url)), "hours": links.VALID.days * 24}
    return render(request, "workshop/person_link.html", context)


def _role_name(user):
    return next(name for name, word in CHOICES if word == role_word(user))


def _tell(request, do, done):
    try:
        do()
    except managing.Refused as refusal:
        messages.error(request, str(refusal))
        return False
    messages.success(request, done)
    return True
