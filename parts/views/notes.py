"""Notes of case families and movements: added, changed, put away, brought back."""

from django import forms
from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext_lazy as lazy

from parts.library import notes
from parts.library.kinds import KINDS
from parts.models import PartNote
from parts.tools.archiving import is_archiving
from parts.tools.sent_only import sent_only
from parts.tools.stale_guard import StalePage


class NoteForm(forms.ModelForm):
    """One tip."""

    class Meta:
        model = PartNote
        fields = ("text",)
        widgets = {"text": forms.Textarea(attrs={"rows": 3})}
        error_messages = {"text": {"required": "Write the tip first. To remove a tip, archive it."}}


def kind_of(note):
    """The kind of part that a note is about."""
    return KINDS["case-families" if note.family_id else "movements"]


def add(request, kind, pk):
    """Write down a note of a case family or a movement."""
    if kind.slug not in notes.HOLDERS:
        raise Http404
    part, form = get_object_or_404(kind.model, pk=pk), NoteForm(request.POST or None)
    if form.is_valid():
        made = notes.add(part=part, text=form.cleaned_data["text"], by=request.user)
        messages.success(request, lazy("Tip saved. It shows wherever {made.of} is used.").format(made=made))
        return redirect("parts:detail", kind, pk)
    return _page(request, form, part, kind, f"A tip for {part}")


def change(request, pk):
    """Change the wording of a note; the older one is put away."""
    note = get_object_or_404(PartNote.objects.select_related("family", "movement"), pk=pk)
    form = NoteForm(request.POST or None, instance=None if request.POST else note)
    if form.is_valid():
        try:
            notes.change(note=note, text=form.cleaned_data["text"], by=request.user)
            messages.success(request, lazy("Tip saved; the earlier wording is archived with the part."))
            return redirect("parts:detail", kind_of(note), note.of.pk)
        except StalePage as refusal:
            form.add_error("text", str(refusal))
    return _page(request, form, note.of, kind_of(note), f"Edit a tip for {note.of}")


def _page(request, form, part, kind, heading):
    context = {"form": form, "part": part, "kind": kind, "heading": heading}
    return render(request, "parts/library/note.html", context, status=422 if form.is_bound else 200)


@sent_only("parts:note", "pk")
def archive(request, pk):
    """Put a note away, or bring it back."""
    note = get_object_or_404(PartNote.objects.select_related("family", "movement"), pk=pk)
    if not is_archiving(request):
        notes.bring_back(note=note)
    elif not note.archived:
        notes.archive(note=note, by=request.user)
    return redirect("parts:detail", kind_of(note), note.of.pk)
