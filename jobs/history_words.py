"""The history in words: the one place that says for people what an event's kind and data tell."""

from datetime import date, datetime
from typing import NamedTuple

from django.db import models
from django.utils import timezone

from jobs.history import is_in_words
from jobs.models import (
    Event,
    FollowUp,
    GoAhead,
    Hindsight,
    Job,
    LuminousClearance,
    Order,
    Outcome,
    PaperOut,
    Payment,
    Quote,
    Stage,
    TimingRun,
)
from parts.dimensions.field import Source
from parts.dimensions.text import show_dimension
from parts.fit.records import describe

NOTHING = "nothing"


class Words(NamedTuple):
    """An event for people: what happened, what it was and what it became."""

    what: str
    before: str
    after: str


def in_words(event):
    """The event in words; one that is older than the kinds in those that it was written in."""
    if event.what:
        return Words(event.what, event.before, event.after)
    what = _WHAT.get(event.kind, _kind)(event)
    before, after = _BOTH.get(event.kind, _as_said)(event)
    return Words(what, before, after)


def value_words(field, value):
    """A stored value of a model's field as a person reads it; empty for none."""
    if value is None or value == "":
        return ""
    if field.choices:
        return str(dict(field.flatchoices).get(value, value))
    if isinstance(field, models.BooleanField):
        return "yes" if value else "no"
    if isinstance(field, models.DateField):
        return _day(str(value))
    return str(value)


def _kind(event):
    return event.get_kind_display()


def _as_said(event):
    return event.before, event.after


def _day(stored):
    return f"{date.fromisoformat(stored):%-d %b %Y}"


def _label(choices, value):
    """The label of a choice; the value itself where it is none any more."""
    return str(choices(value).label) if value in choices.values else str(value or "")


def _list(*words):
    return ", ".join(word for word in words if word)


def _field(model, event):
    """The field that the event tells of; None for one that the model has no longer."""
    return next((field for field in model._meta.fields if field.name == event.data.get("field")), None)


def _named(model, lead=_kind):
    """What happened, with the name of the field behind."""

    def what(event):
        field = _field(model, event)
        name = field.verbose_name if field else event.data.get("field", "")
        return f"{lead(event)}: {name[:1].upper()}{name[1:]}"

    return what


def _values(model):
    """What a field was and became."""

    def both(event):
        field = _field(model, event)
        if field is None or is_in_words(field):
            return _as_said(event)
        return tuple(value_words(field, event.data.get(key)) or NOTHING for key in ("before", "after"))

    return both


def _choices(choices):
    """What a choice was and became."""
    return lambda event: tuple(_label(choices, event.data.get(key)) for key in ("before", "after"))


def _stage(event):
    return f"{_label(Stage.Kind, event.stage).capitalize()} {_kind(event)}"


def _stage_states(event):
    """Why it was skipped; what became of it stands in what happened."""
    return "", event.after


def _dimension(event):
    return f"{_kind(event)}: {describe(event.data['path']).phrase}"


def _dimensions(event):
    unit = describe(event.data["path"]).input.unit
    return tuple(_measured(event.data[key], unit) for key in ("before", "after"))


def _measured(stored, unit):
    if stored is None:
        return "not measured"
    shown = show_dimension(stored["value"], stored["plus_minus"], unit=unit)
    return f"{shown}, {_label(Source, stored['source'])}"


def _own_copy(event):
    return "", f"{event.after}; {event.before} stays as it is, since other watches use it"


def _minutes(event):
    return f"{event.data['minutes']:.0f} min"


def _version(event, key="version"):
    number = event.data.get(key)
    return f"version {number}" if number else ""


def _run(event):
    return f"{'As found' if event.data['as_found'] else 'Run'} of {_day(event.data['started'])}"


def _follow_up(event):
    what = event.after or _label(FollowUp.Kind, event.data["of"])
    return "", _list(what, _day(event.data["on"]) if event.data["on"] else "")


def _reading(event):
    at = timezone.localtime(datetime.fromisoformat(event.data["at"]))
    return f"{event.data['offset_s']:+.2f} s at {at:%-d %b %Y, %H:%M:%S}"


def _payment(event):
    words = _label(Payment.Purpose, event.data["purpose"]), _label(Payment.How, event.data["how"])
    return "", _list(*words)


def _hindsight(event):
    before, after = _choices(Hindsight.Found)(event)
    return _list(before, event.before), _list(after, event.after)


Kind = Event.Kind
_WHAT = {
    Kind.CHANGED: _named(Job),
    Kind.RUN_CHANGED: _named(TimingRun, _run),
    Kind.OUTCOME: _named(Outcome),
    Kind.HINDSIGHT: lambda event: f"{_kind(event)}: {event.data['title']}",
    **dict.fromkeys((Kind.STAGE_CLOSED, Kind.STAGE_SKIPPED, Kind.STAGE_REOPENED), _stage),
    **dict.fromkeys((Kind.MEASURED, Kind.MEASUREMENT_UNDONE), _dimension),
    Kind.OWN_COPY: lambda event: f"{_kind(event)} of the {event.data['part']}",
    Kind.ORDER: lambda event: f"{_kind(event)}: {_label(Order.State, event.data['state'])}",
    Kind.PAPER: lambda event: f"{_kind(event)}: {_label(PaperOut.Kind, event.data['paper'])}",
    Kind.TAKEN_OVER: lambda event: f"{_kind(event)} from job {event.data['number']}",
}
"""What happened, where the kind's own label does not say it all."""
_FOLLOW_UPS = (
    Kind.PROMISED,
    Kind.FOLLOWED_UP,
    Kind.FOLLOW_UP_UNDONE,
    Kind.ASKED,
    Kind.NOT_WANTED,
    Kind.WANTED_AGAIN,
)
_BOTH = {
    Kind.CHANGED: _values(Job),
    Kind.RUN_CHANGED: _values(TimingRun),
    Kind.OUTCOME: _values(Outcome),
    Kind.HINDSIGHT: _hindsight,
    Kind.WAITS: _choices(Job.WaitsFor),
    **dict.fromkeys((Kind.CLOSED, Kind.REOPENED), _choices(Job.State)),
    Kind.GO_AHEAD: lambda event: ("", _list(_label(GoAhead.How, event.data["how"]), event.after)),
    Kind.GO_AHEAD_UNDONE: lambda event: (_list(_label(GoAhead.How, event.data["how"]), event.before), ""),
    Kind.CLEARED: lambda event: ("", f"{_label(LuminousClearance.How, event.data['how'])}: {event.after}"),
    Kind.CLEARANCE_UNDONE: lambda event: (_label(LuminousClearance.How, event.data["how"]), ""),
    **dict.fromkeys((Kind.STAGE_CLOSED, Kind.STAGE_SKIPPED, Kind.STAGE_REOPENED), _stage_states),
    **dict.fromkeys((Kind.MEASURED, Kind.MEASUREMENT_UNDONE), _dimensions),
    Kind.OWN_COPY: _own_copy,
    Kind.TIME_ADDED: lambda event: ("", f"{_minutes(event)} {event.after}".strip()),
    **dict.fromkeys((Kind.TIME_LEFT_OUT, Kind.TIME_COUNTED), lambda event: (_minutes(event), "")),
    Kind.QUOTE_DRAFTED: lambda event: (_version(event, "from_version"), _version(event)),
    Kind.QUOTE_SENT: lambda event: ("", _version(event)),
    **dict.fromkeys((Kind.QUOTE_ACCEPTED, Kind.QUOTE_REFUSED), lambda event: ("", _list(_version(event), event.after))),
    **dict.fromkeys((Kind.PAYMENT, Kind.PAYMENT_UNDONE), _payment),
    Kind.INVOICED: lambda event: ("", event.data["number"]),
    Kind.CREDITED: lambda event: (event.data["of"], _list(event.data["number"], event.after)),
    Kind.ANSWER_UNDONE: lambda event: (_label(Quote.State, event.data["state"]), _version(event)),
    **dict.fromkeys(_FOLLOW_UPS, _follow_up),
    **dict.fromkeys((Kind.RUN_STARTED, Kind.RUN_ARCHIVED, Kind.RUN_BACK), lambda event: ("", _run(event))),
    **dict.fromkeys((Kind.READING_LEFT_OUT, Kind.READING_COUNTED), lambda event: ("", _reading(event))),
}
"""What it was and what it became, where `before` and `after` do not say it all."""
