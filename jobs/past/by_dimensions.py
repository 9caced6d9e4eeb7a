"""Past jobs by dimensions: cases near those of a job, of a case of the library, or near four typed numbers."""

from dataclasses import dataclass

from django import forms
from django.utils.translation import gettext_lazy as lazy

from jobs.models import Job, Past
from jobs.options.choosing import chosen_option
from parts import similar_cases as cases
from parts.dimensions.form_field import DimensionField
from parts.dimensions.text import Reading
from parts.library.part_records import key_of
from parts.models import Case

_JOBS = 200
"""Past jobs on the cases found that are listed at most, newest first."""


def _key(text):
    """A case's key as an address has it; empty for what can be none, so that nothing hidden is refused."""
    return "" if key_of(text) is None else text


@dataclass(frozen=True, slots=True)
class Beside:
    """A case that was found, with the past jobs on it."""

    near: cases.Near
    jobs: list


class NearForm(forms.Form):
    """Four dimensions to look for; ?job= or ?case= fills in those that are known."""

    job = forms.CharField(
        required=False, max_length=12, label=lazy("From job"), help_text=lazy("Its number, such as 26-014.")
    )
    case = forms.IntegerField(required=False, widget=forms.HiddenInput)

    def __init__(self, data):
        data = {name: text.replace("\0", " ") for name, text in data.items()}
        super().__init__(data | {"case": _key(data.get("case", ""))})
        self.source = None
        for name in cases.NAMES:
            dimension = Case.dimensions[name]
            self.fields[name] = DimensionField(unit="mm", label=dimension.label.capitalize())
        self.fields["job"].widget.attrs["autofocus"] = True

    @property
    def number_fields(self):
        return [self[name] for name in cases.NAMES]

    def clean(self):
        cleaned = super().clean()
        for name in cases.NAMES:
            if taken := cleaned.get(name):
                cleaned[name] = Reading(taken.value, taken.plus_minus)
                self._check(name, taken)
        if not any(cleaned.get(name) for name in cases.NAMES) and not any(name in self.errors for name in cases.NAMES):
            self._take_from_source(cleaned)
        return cleaned

    def _check(self, name, taken):
        """Refuse what no case can have, by the case's own limits."""
        trial, dimension = Case(), Case.dimensions[name]
        dimension.put_taken(trial, taken)
        try:
            dimension.check(trial)
        except forms.ValidationError as error:
            self.add_error(name, error)

    def _take_from_source(self, cleaned):
        """Fill in what is measured of the job's case, or of the case."""
        if cleaned.get("job"):
            self.source = self._case_of_job(cleaned["job"].strip())
        elif cleaned.get("case"):
            self.source = Case.objects.select_related("family").filter(pk=cleaned["case"]).first()
        if self.source:
            readings = cases.readings_of(self.source)
            self.data |= {name: Case.dimensions[name].text(self.source) for name in cases.NAMES}
            cleaned.update(readings)
            if not any(readings.values()):
                self.add_error(
                    None,
                    lazy("{source} has none of these dimensions measured yet. Type what you have.").format(
                        source=self.source
                    ),
                )

    def _case_of_job(self, number):
        job = Job.objects.filter(number=number).first()
        if job is None:
            self.add_error(
                "job",
                lazy("No job has the number “{number}”. Type it as on the tray label, such as 26-014.").format(
                    number=number
                ),
            )
            return None
        option = chosen_option(job)
        if option is None or option.pairing.case is None:
            self.add_error(
                "job", lazy("{job} has no chosen option with a case. Type its dimensions instead.").format(job=job)
            )
            return None
        return option.pairing.case

    def find(self):
        """The cases nearest to what is asked for, with their jobs; None where nothing is asked or a field is wrong."""
        if not self.is_valid():
            return None
        readings = {name: self.cleaned_data[name] or None for name in cases.NAMES}
        if not any(readings.values()):
            return None
        near_cases = cases.near(readings, leave_out=self.source.pk if self.source else None)
        past = Past.objects.filter(case__in=[near.case.pk for near in near_cases]).select_related("job", "movement")
        jobs = {}
        for past_job in past.order_by("-day", "-pk")[:_JOBS]:
            jobs.setdefault(past_job.case_id, []).append(past_job)
        return [Beside(near, jobs.get(near.case.pk, [])) for near in near_cases]
