"""The form of a quick check: the parts picked from the library; its typed numbers are read beside it."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as lazy

from parts.library.picker import PartField
from parts.models import Case, Dial, HandSet, Movement, Pairing


class QuickForm(forms.ModelForm):
    """Any part may be left open."""

    case = PartField(Case.objects.in_drawers(), empty="From the library")
    dial = PartField(Dial.objects.in_drawers(), empty="From the library")
    movement = PartField(Movement.objects.in_drawers())
    hands = PartField(HandSet.objects.in_drawers(), label=lazy("Hand set"))

    class Meta:
        model = Pairing
        fields = ("case", "dial", "movement", "hands", "tried_seconds", "tried_small_seconds")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in ("tried_seconds", "tried_small_seconds"):
            self.fields[name].label = "Tried on its post"
        for name in ("case", "dial", "movement", "hands"):
            self.fields[name].widget.stays = True
