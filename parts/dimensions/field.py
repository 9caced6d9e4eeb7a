"""A dimension as a model declares it: one line gives value, plus-minus and source."""

from django.core.exceptions import ValidationError
from django.db import models
from django.utils.translation import gettext_lazy as lazy

from parts.dimensions.readings import how_taken
from parts.dimensions.text import format_dimension, show_dimension
from parts.fit.errors import SheetError
from parts.fit.inputs import Input
from parts.fit.records import describe, input_of


class Source(models.TextChoices):
    """Where a dimension comes from."""

    MEASURED = "m", lazy("measured")
    SHEET = "s", lazy("maker's sheet")
    ESTIMATED = "e", lazy("estimated")
    AT_LEAST = "l", lazy("at least: it ran so")


class Dimension:
    """The columns `<name>` (null where not measured), `<name>_pm` and `<name>_source` for one input.

    `path` is the input's place in the pairing sheet ("case.bore_diameter", "dial.feet[].radius"); label,
    unit, limits and where it is taken come from the engine's records. The model lists its dimensions, in order,
    in `Model.dimensions`: name to Dimension. `source` is where it usually comes from. How each number was taken
    stands in one more column, `taken`: name to what `Taken.record` gives; replaced whole, never changed in place.
    """

    def __init__(self, path, source=Source.MEASURED):
        described = describe(path.replace("[]", "[0]"))
        part, *self.branch, self.key = path.split(".")
        self.path, self.input, self.usual_source = path, described.input, source
        nested = self.branch and part != "hands" and "[]" not in path
        self.label = described.phrase.removeprefix(f"{part} ") if nested else self.input.label

    def contribute_to_class(self, model, name):
        """Called by Django as the model is made."""
        self.name = name
        models.FloatField(null=True, blank=True).contribute_to_class(model, name)
        models.FloatField(default=0.0).contribute_to_class(model, f"{name}_pm")
        models.CharField(max_length=1, choices=Source.choices, default=self.usual_source).contribute_to_class(
            model, f"{name}_source"
        )
        if not getattr(model, "dimensions", {}):
            models.JSONField(default=dict, blank=True, editable=False).contribute_to_class(model, "taken")
        model.dimensions = {**getattr(model, "dimensions", {}), name: self}

    @property
    def columns(self):
        return self.name, f"{self.name}_pm", f"{self.name}_source"

    def of(self, record):
        """What `record` holds: (value or None, plus-minus, source code)."""
        return tuple(getattr(record, column) for column in self.columns)

    def put(self, record, value, plus_minus=0.0, source=Source.MEASURED, how=None):
        """Set the three columns of `record`, and how the number was taken; None where nobody wrote that down."""
        for column, part in zip(self.columns, (value, plus_minus, source), strict=True):
            setattr(record, column, part)
        record.taken = {name: each for name, each in record.taken.items() if name != self.name}
        if how and value is not None:
            record.taken |= {self.name: how}

    def put_taken(self, record, taken, source=Source.MEASURED):
        """Put what was taken (a Taken) into `record`; a bound says so itself."""
        source = Source.AT_LEAST if taken.at_least else source
        self.put(record, taken.value, taken.plus_minus, source, taken.record)

    def how(self, record):
        """How it was taken, in words: "calliper, 3 readings"; empty where nobody wrote that down."""
        return how_taken(record.taken.get(self.name, {}), unit=self.input.unit)

    def text(self, record):
        """The dimension as it is typed: 27.40 ±0.02; empty where not measured."""
        value, plus_minus, source = self.of(record)
        return format_dimension(value, plus_minus, unit=self.input.unit, at_least=source == Source.AT_LEAST)

    def shown(self, record):
        """The dimension as it is read: 27.40 ±0.02 mm; empty where not measured."""
        value, plus_minus, source = self.of(record)
        if value is None:
            return ""
        return show_dimension(value, plus_minus, unit=self.input.unit, at_least=source == Source.AT_LEAST)

    def source(self, record):
        """The word for where it comes from; empty where not measured."""
        value, _, source = self.of(record)
        return "" if value is None else Source(source).label

    def check(self, record):
        """Refuse a value outside the input's limits: ValidationError with value, limit and what to do."""
        value, plus_minus, source = self.of(record)
        if value is None:
            return
        if source == Source.AT_LEAST and not self.input.bounded:
            raise ValidationError(
                lazy("“At least” does not work for the {label}. Measure it, or leave it blank.").format(
                    label=self.label
                )
            )
        refuse_outside(self.input, self.label, value, plus_minus)


def refuse_outside(spec: Input, label: str, value: float, plus_minus: float) -> None:
    """Raise ValidationError for a value outside the limits of what is measured, with value, limit and what to do."""
    try:
        spec.check(label, value, plus_minus)
    except SheetError as error:
        of_value = error.value == value
        number = show_dimension(value if of_value else plus_minus, unit=spec.unit)
        wrong = number if of_value else f"A plus-minus of {number}"
        raise ValidationError(_out_of_range(wrong, label, error)) from error


def _out_of_range(wrong, label, error):
    return lazy(
        "{wrong} is out of range: {label} must be {error.limit}. Check the reading, or leave it blank if not measured."
    ).format(wrong=wrong, label=label, error=error)


def refused_words(error: SheetError) -> str:
    """What numbers that no watch can have are told by, the value with its unit; a name stands for itself."""
    try:
        spec = input_of(error.key)
    except KeyError:
        spec = None
    value = str(error.value)
    if isinstance(error.value, int | float):
        value = show_dimension(error.value, unit=spec.unit if spec else "mm")
    if spec and error.reason == f"out of range for {spec.label}":
        return _out_of_range(value, spec.label, error)
    return lazy("{value} does not work: {error.reason}. It must be {error.limit}.").format(
        value=value[:1].upper() + value[1:], error=error
    )
