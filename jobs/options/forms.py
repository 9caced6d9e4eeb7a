"""Forms for the pairings that a job weighs."""

from __future__ import annotations

from textwrap import shorten
from typing import TYPE_CHECKING, Any
from uuid import uuid4

from django import forms
from django.utils.translation import gettext_lazy as lazy

from parts.library.picker import PartField
from parts.models import Case, Dial, Pairing

if TYPE_CHECKING:
    from jobs.models import Job

MOST_LISTED = 50
"""Kept pairings of other case families that are offered; older ones are found by their name under Fit checks."""


class OptionForm(forms.Form):
    """A kept pairing to weigh in this job: those of its case family first, then the newest others."""

    pairing = forms.ModelChoiceField(
        Pairing.objects.none(), label=lazy("Saved fit check"), empty_label=lazy("choose a fit check")
    )

    def __init__(self, *args: Any, job: Job, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        pairings = Pairing.objects.saved().in_drawers().exclude(job_option__job=job).order_by("-updated")
        self.fields["pairing"].queryset = pairings
        of_family = pairings.filter(case__family=job.case_family_id) if job.case_family_id else pairings.none()
        others = pairings.exclude(pk__in=of_family.values("pk"))
        groups = [(str(job.case_family), _listed(of_family)), ("from other watches, newest first", _listed(others))]
        self.fields["pairing"].choices = [("", "choose a fit check"), *(group for group in groups if group[1])]


def _listed(pairings):
    return [(pairing.pk, str(pairing)) for pairing in pairings.only("name", "made_for")[:MOST_LISTED]]


class BeginForm(forms.Form):
    """A new pairing that begins with a case of the job's family, and with the family's dial where there is one."""

    case = PartField(Case.objects.in_drawers(), label=lazy("Case"))

    def __init__(self, *args: Any, job: Job, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.job = job
        chosen = job.options.filter(chosen=True).values_list("pairing__case", flat=True).first()
        of_family = Case.objects.in_drawers().filter(family=job.case_family_id or 0)[:2]
        self.fields["case"].initial = chosen or (of_family[0].pk if len(of_family) == 1 else None)

    @property
    def pairing(self):
        """The new pairing, a draft until somebody saves it."""
        dials = Dial.objects.filter(family=self.job.case_family_id or 0, archived=False)[:2]
        number = self.job.options.count() + 1
        name = f"{shorten(self.job.title, 50, placeholder='…')}, option {number}"
        dial = dials[0] if len(dials) == 1 else None
        return Pairing(name=name, case=self.cleaned_data["case"], dial=dial, draft_key=uuid4())
