"""The forms of What would go in?: what is given, and which parts of the library to leave out."""

from typing import Any

from django import forms
from django.db.models import Q
from django.utils.translation import gettext_lazy as lazy

from parts.goes_in.filters import KEEPERS
from parts.library.picker import PartField, role_of
from parts.models import Case, Crown, Dial, HandSet, Movement, Pairing, Stem
from parts.models.pairing import OTHER_HANDS
from parts.tools.number_field import NumberField

GIVEN = {
    "movement": ("case", "dial", "hands", *OTHER_HANDS, "stem", "crown"),
    "hands": ("case", "dial", "movement", *OTHER_HANDS),
    "stem": ("case", "movement", "crown"),
    "crown": ("case", "movement", "stem"),
}
"""What may be given where a part is looked for; the rest has no say in it."""
MODELS = {"case": Case, "dial": Dial, "movement": Movement, "hands": HandSet, "stem": Stem, "crown": Crown}
MODELS |= dict.fromkeys(OTHER_HANDS, HandSet)
_LABELS = {"hands": "Hand set"} | {
    name: f"{role_of(name).replace('_', ' ').capitalize()} hand that stays" for name in OTHER_HANDS
}
TWO_HANDS = "no_seconds_hand"
_EITHER = [("", "any"), ("yes", "with"), ("no", "without")]


class GivenForm(forms.Form):
    """The parts that are given, and filters on those looked for; a kept pairing may be the start."""

    words = forms.CharField(label=lazy("Name or notes"), required=False, max_length=80)
    in_stock = forms.BooleanField(label=lazy("In stock only"), required=False)

    def __init__(self, data: Any, *, part: Any) -> None:
        super().__init__(data or None)
        self.part = part
        for name in GIVEN[part]:
            records: Any = MODELS[name].objects.filter(archived=False)
            self.fields[name] = PartField(
                records.select_related("family") if name in ("case", "dial") else records,
                role=role_of(name),
                label=_LABELS.get(name, name.capitalize()),
                empty="none" if name in OTHER_HANDS else "not chosen",
            )
        self._given = GIVEN[part]
        if {"hands", *OTHER_HANDS} & {*self._given}:
            self.fields[TWO_HANDS] = forms.BooleanField(label=lazy("No seconds hand"), required=False)
            self._given = (*self._given, TWO_HANDS)
        self.order_fields([*self._given, "words", "in_stock"])

    @property
    def given(self):
        return [self[name] for name in self._given]

    @property
    def filters(self):
        """The filters as fields, check boxes last."""
        rest = [self[name] for name in self.fields if name not in self._given]
        return sorted(rest, key=lambda field: field.widget_type == "checkbox")

    @property
    def pairing(self):
        """The pairing as it is given, not saved."""
        chosen = {name: self.cleaned_data.get(name) for name in self._given} if self.is_bound else {}
        return Pairing(**{name: given for name, given in chosen.items() if given})

    @property
    def records(self):
        """The records that the filters leave, before any is checked."""
        records, wanted = MODELS[self.part].objects.filter(archived=False), getattr(self, "cleaned_data", {})
        for word in wanted.get("words", "").replace("\0", " ").split():
            records = records.filter(Q(name__icontains=word) | Q(notes__icontains=word))
        return records.filter(in_stock__gt=0) if wanted.get("in_stock") else records

    @property
    def is_sieving(self):
        """Whether any filter leaves parts out."""
        wanted = getattr(self, "cleaned_data", {})
        return any(wanted.get(field.name) not in ("", None, False) for field in self.filters)

    def keep(self, standing):
        """Which rows of a Standing the filters leave that go by the check itself."""
        return KEEPERS[self.part](standing, self.cleaned_data if self.is_bound else {})


class MovementsForm(GivenForm):
    date = forms.ChoiceField(label=lazy("Date"), choices=_EITHER, required=False)
    goes_on = forms.ChoiceField(
        label=lazy("The chosen hands"), choices=[("", "any"), ("yes", "fit as they are")], required=False
    )
    cell_life = NumberField(label=lazy("Cell lasts at least"), required=False, lowest=0, highest=600, unit="months")
    height = NumberField(
        label=lazy("Height behind the dial, at most"), required=False, lowest=0, highest=100, unit="mm"
    )

    @property
    def records(self):
        records, wanted = super().records, getattr(self, "cleaned_data", {})
        if wanted.get("date"):
            records = records.filter(has_date=wanted["date"] == "yes")
        if wanted.get("height") is not None:
            records = records.filter(back_height__lte=wanted["height"])
        return records


class HandsForm(GivenForm):
    seconds = forms.ChoiceField(label=lazy("Seconds hand"), choices=_EITHER, required=False)
    lume = forms.CharField(label=lazy("Luminous colour"), required=False, max_length=40)
    goes_on = forms.ChoiceField(
        label=lazy("On the posts"), choices=[("", "any"), ("yes", "fit as they are")], required=False
    )

    @property
    def records(self):
        records, wanted = super().records, getattr(self, "cleaned_data", {})
        if wanted.get("lume"):
            records = records.filter(lume__icontains=wanted["lume"].replace("\0", " "))
        if wanted.get("seconds"):
            with_seconds = HandSet.objects.filter(hands__role="seconds").values("pk")
            records = (
                records.filter(pk__in=with_seconds)
                if wanted["seconds"] == "yes"
                else records.exclude(pk__in=with_seconds)
            )
        return records


class CrownsForm(GivenForm):
    style = forms.ChoiceField(label=lazy("Closes"), choices=[("", "any"), *Crown.Style.choices[1:]], required=False)

    @property
    def records(self):
        wanted = getattr(self, "cleaned_data", {}).get("style")
        return super().records.filter(style=wanted) if wanted else super().records


class PlanForm(GivenForm):
    """What stays of a watch; every other part is looked for."""

    def __init__(self, data: Any) -> None:
        super().__init__(data, part="movement")
        for name in ("words", "in_stock"):
            del self.fields[name]
        for name in ("hands", "stem", "crown"):
            self.fields[name].label = f"{_LABELS.get(name, name.capitalize())} that stays"
            self.fields[name].widget.empty = "any"


FORMS = {"movement": MovementsForm, "hands": HandsForm, "stem": GivenForm, "crown": CrownsForm}


class TableForm(forms.Form):
    """Which cases and movements stand in the table, and the hands that are to be checked along."""

    case_words = forms.CharField(label=lazy("Case or family"), required=False, max_length=80)
    movement_words = forms.CharField(label=lazy("Movement"), required=False, max_length=80)
    hands = PartField(HandSet.objects.filter(archived=False), label=lazy("With the hand set"))
    order = forms.ChoiceField(
        label=lazy("Sort cases by"),
        choices=[("", "name"), ("most", "how many movements fit")],
        required=False,
    )

    @property
    def cases(self):
        """The cases whose name or family holds every word."""
        records = Case.objects.filter(archived=False).select_related("family").order_by("family__name", "name", "pk")
        for word in self._words("case_words"):
            records = records.filter(Q(name__icontains=word) | Q(family__name__icontains=word))
        return records

    @property
    def movements(self):
        records = Movement.objects.filter(archived=False)
        for word in self._words("movement_words"):
            records = records.filter(name__icontains=word)
        return records

    @property
    def chosen_hands(self):
        return getattr(self, "cleaned_data", {}).get("hands")

    @property
    def most_first(self):
        return getattr(self, "cleaned_data", {}).get("order") == "most"

    def _words(self, name):
        return getattr(self, "cleaned_data", {}).get(name, "").replace("\0", " ").split()
