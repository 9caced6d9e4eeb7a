"""The form of what came of a job."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as lazy

from jobs.models import Hindsight, Outcome
from jobs.past import outcome as outcomes
from parts.tools.stale_guard import StaleGuard

_FIELDS = ("word", "went_wrong", "next_time", "ring", "spacer", "learn", "learn_why")
_AS_SAID = "as reported"


class OutcomeForm(StaleGuard, forms.ModelForm):
    """What came of the job, and for each check of its last kept report what the bench said."""

    class Meta:
        model = Outcome
        fields = _FIELDS
        widgets = {name: forms.Textarea(attrs={"rows": 3}) for name in ("went_wrong", "next_time")}
        labels = {"ring": "Holder ring used", "spacer": "Spacer used"}
        help_texts = {
            "went_wrong": "What you would want to know before the next one like it.",
            "learn": "Past swaps has a filter for lessons.",
        }

    def __init__(self, *args: Any, saved_report: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.saved_report, self.before = saved_report, {name: getattr(self.instance, name) for name in _FIELDS}
        self.fields["word"].choices = [("", "not noted yet"), *Outcome.Word.choices]
        for kind in ("ring", "spacer"):
            self.fields[kind].queryset = outcomes.designs_for(self.instance.job).filter(kind=kind)
            self.fields[kind].empty_label = "none, or not saved here"
        said = {hindsight.check_key: hindsight for hindsight in self.instance.job.hindsights.all()}
        for check in self.checks:
            known = said.get(check["key"])
            self._add_check(check, known.found if known else "", known.note if known else "")

    def _add_check(self, check, at_bench, note):
        title = check["title"]
        choices = [("", _AS_SAID), *Hindsight.Found.choices]
        self.fields[f"found-{check['key']}"] = forms.ChoiceField(
            choices=choices, required=False, initial=at_bench, label=lazy("{title}: at the bench").format(title=title)
        )
        self.fields[f"note-{check['key']}"] = forms.CharField(
            max_length=300, required=False, initial=note, label=lazy("{title}: note").format(title=title)
        )

    @property
    def checks(self):
        """The kept report's checks that have a verdict, as plain values; those that apply to each hand stand apart."""
        return self.saved_report.answered if self.saved_report else []

    @property
    def rows(self):
        """(check, field of what the bench said, field of the note) for each check."""
        return [(check, self[f"found-{check['key']}"], self[f"note-{check['key']}"]) for check in self.checks]

    @property
    def main_fields(self):
        return [self[name] for name in _FIELDS]

    def clean(self):
        cleaned = super().clean()
        if cleaned.get("learn") and not cleaned.get("learn_why"):
            self.add_error("learn_why", lazy("Say in a few words what this job teaches, or untick the lesson."))
        for check in self.checks:
            if cleaned.get(f"note-{check['key']}") and not cleaned.get(f"found-{check['key']}"):
                self.add_error(f"found-{check['key']}", lazy("You wrote a note: choose what happened, too."))
        return cleaned

    def store(self, by):
        """Store everything, with its history."""
        said = [
            (check, (self.cleaned_data[f"found-{check['key']}"], self.cleaned_data[f"note-{check['key']}"]))
            for check in self.checks
        ]
        outcomes.store(outcome=self.instance, before=self.before, said=said, by=by)
