"""How forms look: each field with label, hint and error from one template, and choices written without one."""

from __future__ import annotations

from typing import Any

from django import forms
from django.forms.renderers import TemplatesSetting
from django.forms.utils import flatatt
from django.http import HttpRequest
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

CHOICE = "django/forms/widgets/select.html"
NONE = "---------"
"""What Django calls the choice of nothing."""


class _BoundField(forms.BoundField):
    """A field that asks for the focus where it is the first wrong one of its form, and no other does."""

    def build_widget_attrs(self, attrs: dict[str, Any], widget: forms.Widget | None = None) -> dict[str, Any]:
        attrs = super().build_widget_attrs(attrs, widget)
        if not self.form.errors:
            return attrs
        seen = (name for name, field in self.form.fields.items() if not field.widget.is_hidden)
        return attrs | {"autofocus": self.name == next((name for name in seen if name in self.form.errors), None)}


class Renderer(TemplatesSetting):
    """Renders every form field with label, hint and error from one template."""

    field_template_name = "_field.html"
    bound_field_class = _BoundField

    def render(self, template_name: str, context: dict[str, Any], request: HttpRequest | None = None) -> str:
        if template_name == CHOICE:
            return choice(context["widget"])
        return super().render(template_name, context, request)


def choice(widget: dict[str, Any]) -> SafeString:
    """A choice's HTML from what its widget has: by Django's templates, one for each option, it takes ten times as long.

    Dashes for nothing are said in words.
    """
    nothing = _("choose") if widget["required"] else _("not given")
    groups = (_group(name, options, nothing) for name, options, _place in widget["optgroups"])
    rows = format_html_join("", "{}", ((group,) for group in groups))
    return format_html('<select name="{}"{}>{}</select>', widget["name"], flatatt(widget["attrs"]), rows)


def _group(name: str | None, options: list[dict[str, Any]], nothing: str) -> SafeString:
    rows = format_html_join(
        "",
        '<option value="{}"{}>{}</option>',
        (
            (option["value"], flatatt(option["attrs"]), nothing if option["label"] == NONE else option["label"])
            for option in options
        ),
    )
    return format_html('<optgroup label="{}">{}</optgroup>', name, rows) if name else rows
