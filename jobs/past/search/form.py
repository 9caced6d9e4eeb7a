"""The form that past swaps are searched by."""

from django import forms
from django.utils.translation import gettext_lazy as lazy

from jobs.models import Outcome, Stage
from jobs.past.search.finding import STATES, find, narrowed
from parts.models import CaseFamily, Movement
from parts.tools.dates import DateInput

_MOST_NAMES = 200
"""Case families or movements that one piece of a name may mean."""
_ALL_STATES = tuple(value for value, _ in STATES[:-1])


class PastForm(forms.Form):
    """Words and what else is known; nothing is required."""

    q = forms.CharField(required=False, label=lazy("Words"), max_length=400)
    family = forms.CharField(required=False, max_length=80, label=lazy("Case family"))
    movement = forms.CharField(required=False, max_length=80)
    outcome = forms.ChoiceField(required=False, choices=[("", "any"), *Outcome.Word.choices])
    state = forms.ChoiceField(required=False, choices=STATES, label=lazy("Status"))
    stage = forms.ChoiceField(required=False, choices=[("", "any"), *Stage.Kind.choices[1:]], label=lazy("Stage"))
    since = forms.DateField(required=False, widget=DateInput, label=lazy("From"))
    until = forms.DateField(required=False, widget=DateInput, label=lazy("To"))
    learn = forms.BooleanField(required=False, label=lazy("Only jobs with a lesson"))

    def __init__(self, data):
        data = data.copy()
        for name, text in data.items():
            if "\0" in text:
                data[name] = text.replace("\0", " ")
        data.setdefault("state", "finished")
        super().__init__(data)
        self.fields["q"].widget.attrs |= {"type": "search", "autofocus": True}

    def clean(self):
        cleaned = super().clean()
        since, until = cleaned.get("since"), cleaned.get("until")
        if since and until and since > until:
            self.add_error(
                "until",
                lazy("{until:%-d %b %Y} is before {since:%-d %b %Y}. Swap the two days.").format(
                    until=until, since=since
                ),
            )
        return cleaned

    def clean_family(self):
        return self._named(CaseFamily, self.cleaned_data["family"], "case family")

    def clean_movement(self):
        return self._named(Movement, self.cleaned_data["movement"], "movement")

    def _named(self, model, text, word):
        """Primary keys of the records whose name holds the text; None where nothing is typed."""
        if not text.strip():
            return None
        keys = list(model.objects.filter(name__icontains=text.strip()).values_list("pk", flat=True)[:_MOST_NAMES])
        if not keys:
            raise forms.ValidationError(
                lazy("No {word} is called “{text}”. Type part of its name, or leave it blank.").format(
                    word=word, text=text
                )
            )
        return keys

    @property
    def past(self):
        """The records that the fields but the words ask for."""
        wanted = self.cleaned_data
        state = wanted["state"] or "finished"
        return narrowed(
            states=_ALL_STATES if state == "any" else (state,),
            families=wanted["family"],
            movements=wanted["movement"],
            **{name: wanted[name] for name in ("stage", "outcome", "learn", "since", "until")},
        )

    def find(self, after):
        """A page of what is asked for; None where a field is wrong."""
        return find(past=self.past, words=self.cleaned_data["q"], after=after) if self.is_valid() else None

    @property
    def narrows(self):
        """Whether anything but the finished jobs of every kind is asked for."""
        wanted = {name: value for name, value in self.cleaned_data.items() if value and name != "state"}
        return bool(wanted) or self.cleaned_data["state"] not in ("", "finished")

    @property
    def is_sieved(self):
        """Whether a field is used that stands folded, below the words."""
        used = {name for name in self.fields if name not in ("q", "state") and self.data.get(name)}
        return bool(used) or self.data["state"] not in ("", "finished")
