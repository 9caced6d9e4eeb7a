"""Events written in words get their kind, and the facts that programs go by: the field changed, what was measured.

The words stay as they were said. Of a measurement that cannot be read only the kind is kept, and a change of a field
that is not known counts as one of money.
"""

import re

from django.db import migrations

AT_ONCE = 1000
STAGES = "Intake|Teardown|Holder|Dial|Hands|Stem|Timing test|Handover"
KINDS = [
    (re.compile(rf"(?:{words})$"), kind)
    for words, kind in (
        ("Watch logged", "logged"),
        ("Changed: .*", "changed"),
        ("Waits for", "waits"),
        ("Job closed", "closed"),
        ("Job opened again", "reopened"),
        ("Job archived", "archived"),
        ("Job brought back", "brought-back"),
        ("Taken over from job .*", "taken-over"),
        ("Customer's personal data erased", "erased"),
        ("Go-ahead recorded", "go-ahead"),
        ("Go-ahead taken back", "go-ahead-undone"),
        ("Luminous material cleared", "cleared"),
        ("Clearance of luminous material taken back", "clearance-undone"),
        (f"(?:{STAGES}) closed", "stage-closed"),
        (f"(?:{STAGES}) skipped", "stage-skipped"),
        (f"(?:{STAGES}) opened again", "stage-reopened"),
        ("Ticked", "ticked"),
        ("Tick taken back", "tick-undone"),
        ("Measured: .*", "measured"),
        ("Measurement taken back: .*", "measurement-undone"),
        ("Own copy made of the .*", "own-copy"),
        ("Time put in by hand", "time-added"),
        ("Time left out", "time-left-out"),
        ("Time counted again", "time-counted"),
        ("Option added", "option-added"),
        ("Option chosen", "option-chosen"),
        ("Option dropped", "option-ruled-out"),
        ("Option weighed again", "option-reconsidered"),
        ("Quote drafted", "quote-drafted"),
        ("Quote sent", "quote-sent"),
        ("Quote accepted", "quote-accepted"),
        ("Quote refused", "quote-refused"),
        ("Answer to the quote taken back", "answer-undone"),
        ("Part (?:to order|ordered|arrived|not needed)", "order"),
        ("Part used", "part-used"),
        ("Part put back", "part-put-back"),
        ("Put aside", "put-aside"),
        ("Paper made: .*", "paper"),
        ("Photo added", "photo-added"),
        ("Photo put away", "photo-archived"),
        ("Photo brought back", "photo-back"),
        ("Timing run started", "run-started"),
        ("Timing run put away", "run-archived"),
        ("Timing run brought back", "run-back"),
        (r"(?:As found|Run) of \d{4}-\d\d-\d\d: .*", "run-changed"),
        ("Reading left out", "reading-left-out"),
        ("Reading counted again", "reading-counted"),
        ("Outcome: .*", "outcome"),
        ("In hindsight: .*", "hindsight"),
        ("To learn from", "to-learn"),
        ("No longer to learn from", "not-to-learn"),
    )
]
FIELDS = {
    "Case family": "case_family",
    "The watch as found": "watch",
    "Serial number": "serial",
    "The customer's wish": "wish",
    "Came with": "came_with",
    "Must be kept": "keep",
    "Luminous material": "luminous",
    "Promised for": "promised",
    "Agreed diagnosis fee": "diagnosis_fee",
    "Remarks": "remarks",
}
"""The fields of a job, as their changes were told."""
MEASURED = {
    "case.bore_diameter": ("case bore diameter", "mm"),
    "case.stem_axis_depth": ("case stem axis depth", "mm"),
    "case.back_depth": ("case back depth", "mm"),
    "case.dial_seat_diameter": ("case dial seat diameter", "mm"),
    "case.crystal_gap_centre": ("case crystal gap at the centre", "mm"),
    "case.crystal_gap_edge": ("case crystal gap at the edge", "mm"),
    "case.crown_seat_radius": ("case crown seat radius", "mm"),
    "dial.diameter": ("dial diameter", "mm"),
    "dial.thickness": ("dial thickness", "mm"),
    "dial.centre_hole_diameter": ("dial centre hole diameter", "mm"),
    "movement.fit_diameter": ("movement fit diameter", "mm"),
    "movement.overall_diameter": ("movement overall diameter", "mm"),
    "movement.back_height": ("movement back height", "mm"),
    "movement.current": ("movement current", "µA"),
    "stem.length": ("stem length", "mm"),
    "stem.uncut_gap": ("stem gap with the uncut stem", "mm"),
    "stem.thread": ("stem thread", "mm"),
    "crown.bore_depth": ("crown bore depth", "mm"),
} | {
    f"hands.{hand}.{key}": (f"hands {hand} {words}", unit)
    for hand in ("hour", "minute", "seconds")
    for key, words, unit in (
        ("hole_diameter", "hole diameter", "mm"),
        ("hub_height", "hub height", "mm"),
        ("mass", "mass", "mg"),
        ("centre_of_mass", "centre of mass", "mm"),
    )
}
"""What a stage measures: its words and unit in the history, by its path."""
PATHS = {words: path for path, (words, _) in MEASURED.items()}
READING = re.compile(r"(-?\d+(?:\.\d+)?)(?: ±(\d+(?:\.\d+)?))? (\S+?)(?:, (measured|maker's sheet|estimated))?")
SOURCES = {"measured": "m", "maker's sheet": "s", "estimated": "e", None: "m"}


def facts(what, before, after):
    """The kind and the data of an event from its words; the first events of a measurement tell no source."""
    kind = next((kind for words, kind in KINDS if words.match(what)), "unread")
    told = what.partition(": ")[2]
    if kind == "changed" and told in FIELDS:
        return kind, {"field": FIELDS[told]}
    if kind in ("measured", "measurement-undone") and told in PATHS:
        path = PATHS[told]
        read = {"before": reading(before, MEASURED[path][1]), "after": reading(after, MEASURED[path][1])}
        return kind, {"path": path} | {key: value[0] for key, value in read.items() if value}
    return kind, {}


def reading(text, unit):
    """What was measured, as a tuple of one: (None,) for what was not; an empty one for a text that cannot be read."""
    if text == "not measured":
        return (None,)
    found = READING.fullmatch(text)
    if found is None or found[3] != unit:
        return ()
    return ({"value": float(found[1]), "plus_minus": float(found[2] or 0), "source": SOURCES[found[4]]},)


def carry_over(apps, editor):
    events = apps.get_model("jobs", "Event").objects.using(editor.connection.alias).filter(kind="unread")
    batch = []
    for event in events.order_by("pk").only("what", "before", "after").iterator(AT_ONCE):
        event.kind, event.data = facts(event.what, event.before, event.after)
        batch.append(event)
        if len(batch) == AT_ONCE:
            events.bulk_update(batch, ["kind", "data"], batch_size=200)
            batch = []
    events.bulk_update(batch, ["kind", "data"], batch_size=200)


class Migration(migrations.Migration):
    dependencies = [("jobs", "0010_event_kinds")]

    operations = [migrations.RunPython(carry_over, migrations.RunPython.noop)]
