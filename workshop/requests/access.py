"""Who may open which address: the one place that decides, for every request.

An address that stands in no line of the table is the owner's alone, so that a new one is closed until somebody
decides. Looking is GET and HEAD; anything else counts as changing.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.contrib.auth.views import redirect_to_login
from django.core.exceptions import PermissionDenied, RequestDataTooBig
from django_htmx.http import HttpResponseClientRefresh

from workshop.accounts import access_log
from workshop.accounts.roles import Role, role_of

if TYPE_CHECKING:
    from django.contrib.auth.models import AnonymousUser, User


@dataclass(frozen=True, slots=True)
class Rule:
    """The least role for looking at an address, and for sending something to it."""

    look: Role
    change: Role


OPEN = Rule(Role.NOBODY, Role.NOBODY)
OWN = Rule(Role.READER, Role.READER)
WORK = Rule(Role.READER, Role.BENCH)
FORM = Rule(Role.BENCH, Role.BENCH)
OWNER = Rule(Role.OWNER, Role.OWNER)

_TABLE = {
    OPEN: "first-start sign-in second-step choose-password health calendar-feed",
    OWN: """
        sign-out account account-device password second-steps code-app code-app-remove passkey-add passkey-remove
        recovery-codes parts:pairing-chance parts:pairing-new-chance parts:numbers
        parts:draft-numbers parts:pairing-tried
    """,
    WORK: """
        jobs:bench jobs:search jobs:jobs jobs:customers jobs:customer jobs:logged jobs:job jobs:saved-report
        jobs:history jobs:photo jobs:photo-page jobs:photo-original jobs:thumbnail jobs:rules jobs:orders jobs:papers
        jobs:saved-paper jobs:holder-order-saved-paper jobs:clock jobs:runs jobs:run jobs:stage jobs:tick jobs:tick-all
        jobs:stage-close jobs:stage-skip jobs:stage-open jobs:measurements jobs:remarks
        jobs:time jobs:time-leave-out jobs:run-put-away jobs:tap jobs:type-in jobs:reading-take-back
        jobs:customer-put-away jobs:take-back jobs:state jobs:measured-now
        jobs:option-add jobs:option-new jobs:option jobs:photo-add
        jobs:photo-caption jobs:photo-move jobs:photo-cover jobs:photo-pair jobs:photo-mark
        jobs:photo-put-away jobs:stock-aside jobs:stock-take jobs:stock-settle jobs:stock-count
        jobs:order jobs:paper jobs:past
        jobs:rules-learned jobs:enquiries jobs:enquiry jobs:enquiry-close jobs:enquiry-sheet
        jobs:holder-orders jobs:holder-order jobs:holder-order-step jobs:holder-order-measure jobs:holder-order-address
        jobs:holder-order-feedback jobs:holder-order-paper
        jobs:after jobs:calendar-file jobs:job-after jobs:follow-up jobs:follow-up-undo
        jobs:past-near jobs:learn jobs:figures jobs:figures-file
        parts:note-put-away parts:instruments parts:instrument-put-away
        parts:index parts:list parts:detail parts:export parts:template parts:put-away parts:bring-back parts:copy
        parts:measured parts:pick parts:how-to-measure parts:card jobs:measuring-sheet
        parts:pairings parts:pairing parts:pairing-compare parts:pairing-put-away parts:pairing-sheet
        jobs:fit-check-paper parts:pairing-look parts:pairing-look-picture parts:holders parts:holder
        parts:holder-prints parts:holder-print-put-away
        parts:coupon-measured parts:coupon-stl parts:coupon-3mf
        parts:goes-in-movements parts:goes-in parts:goes-in-pictures parts:goes-in-plan
        parts:goes-in-table parts:mats parts:mat-paper parts:mat-bars parts:mat-put-away parts:part-pictures
        parts:scanner parts:scanner-put-away
        parts:picture parts:picture-read parts:picture-flat parts:picture-whole
        parts:picture-pick parts:picture-use parts:picture-put-away
        parts:holder-mesh parts:holder-result parts:holder-put-away parts:holder-photo-add parts:holder-photo
        parts:holder-photo-small parts:holder-photo-put-away parts:holder-file
    """,
    FORM: """
        jobs:log jobs:draft jobs:draft-drop jobs:likely jobs:customer-edit jobs:edit jobs:go-ahead jobs:luminous
        jobs:letter jobs:enquiry-new jobs:holder-order-new jobs:holder-order-edit
        jobs:order-add jobs:run-change jobs:outcome parts:note parts:note-add
        parts:measured-here
        parts:look parts:look-again
        parts:add parts:edit parts:import parts:import-check parts:pairing-new parts:pairing-upload parts:holder-new
        parts:draft parts:quick-new parts:quick parts:quick-chance parts:quick-keep parts:quick-discard parts:examples
    """,
    OWNER: """
        jobs:shop jobs:shop-words jobs:holder-prices
        jobs:quote-draft jobs:quote jobs:quote-sums jobs:quote-send jobs:quote-next jobs:quote-answer
        jobs:payment-add jobs:payment-undo jobs:invoice-add jobs:invoice jobs:invoice-credit
        jobs:holder-order-payment-add jobs:holder-order-payment-undo jobs:holder-order-invoice-add
        jobs:holder-order-invoice jobs:holder-order-invoice-credit
        jobs:customer-export jobs:customer-erase
        jobs:window jobs:window-about jobs:window-write jobs:window-clear jobs:window-zip jobs:window-preview-home
        jobs:window-preview jobs:window-entry jobs:window-entry-state
        jobs:window-holder jobs:window-holder-state
        people person person-away person-link person-steps person-out export access-log calendar
    """,
}
RULES = {name: rule for rule, names in _TABLE.items() for name in names.split()}
_LOOKING = ("GET", "HEAD")
MOST_FROM_ANYBODY = 100_000
"""Bytes that an address takes which is open to everybody."""


def rule_of(view_name: str) -> Rule:
    """The rule of an address by its name; the owner's where the table does not have it."""
    return RULES.get(view_name, OWNER)


def may(user: User | AnonymousUser, view_name: str, *, change: bool = False) -> bool:
    """Tell whether an account may look at an address, or change something there."""
    rule = rule_of(view_name)
    return role_of(user) >= (rule.change if change else rule.look)


class Access:
    """Let nobody pass who may not: the sign-in page, or a page that says so; htmx reloads or shows the refusal.

    Sets `request.sees_money` for the views. Stands before anything that reads what is sent, so that who may not gets
    rid of nothing here.
    """

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        request.sees_money = role_of(request.user) == Role.OWNER
        return self.get_response(request)

    def process_view(self, request, view, args, kwargs):
        name = request.resolver_match.view_name
        if rule_of(name) == OPEN and int(request.META.get("CONTENT_LENGTH") or 0) > MOST_FROM_ANYBODY:
            raise RequestDataTooBig
        if may(request.user, name, change=request.method not in _LOOKING):
            return None
        if request.user.is_authenticated:
            access_log.note(access_log.Kind.REFUSED, request=request, about=name)
            raise PermissionDenied
        return HttpResponseClientRefresh() if request.htmx else redirect_to_login(request.get_full_path())


def seen_by(request) -> dict:
    """Tell every template what its reader may see and change."""
    role = role_of(request.user) if hasattr(request, "user") else Role.NOBODY
    return {
        "sees_money": role == Role.OWNER,
        "may_change": role >= Role.BENCH,
        "is_owner": role == Role.OWNER,
        "reads_only": role == Role.READER,
    }
