"""The demo's show window: a few past conversions, chosen and worded for it, in English and German."""

from decimal import Decimal

from django.db import transaction

from jobs.demo.people import visitor
from jobs.models import Job, Shop, Window, WindowEntry, WindowHolder, WindowPhoto
from jobs.window import entries
from jobs.window.holders import proposed_holder
from jobs.window.proposals import proposed, proposed_roles, proposed_words, showable_photos
from parts.models import HolderDesign

_WINDOW = {
    "tagline": "Your watch keeps its face, and gets a new movement.",
    "intro": "We convert wristwatches from worn mechanical movements to quartz. Case, dial and as much else as "
    "possible stay; the holder ring and the spacer are drawn from your own watch, to a hundredth of a millimetre.",
    "steps": "Write to us: which watch it is, and what it should do again.\n"
    "We measure it, and tell you what fits, what changes and what it costs.\n"
    "You say yes; only then is anything made or ordered.\n"
    "It is timed over days, and comes back with its old parts.",
    "contact": "Weir Lane Watches\n12 Weir Lane, Hollin Ferry\n555 0199",
}
_IN_GERMAN = {
    "tagline": "Ihre Uhr behält ihr Gesicht und bekommt ein neues Werk.",
    "intro": "Wir bauen Armbanduhren von abgenutzten mechanischen Werken auf Quarz um. Gehäuse, Zifferblatt und "
    "möglichst vieles sonst bleiben; Werkhaltering und Distanzring zeichnen wir nach Ihrer Uhr, auf ein Hundertstel "
    "genau.",
    "steps": "Sie schreiben uns, welche Uhr es ist und was sie wieder können soll.\n"
    "Wir messen sie aus und sagen Ihnen, was passt, was sich ändert und was es kostet.\n"
    "Sie sagen ja; erst dann wird etwas gefertigt oder bestellt.\n"
    "Wir prüfen den Gang über mehrere Tage, und Sie bekommen auch die alten Teile zurück.",
}
_ENTRIES = {
    "ivory dial": {
        "title": "A small two-hander that runs again",
        "story": "A dress watch of 26 mm whose movement could no longer be had. The ivory dial stayed as it was.\n"
        "The smallest ring that we make: its wall is barely a millimetre.",
    },
    "grey dial": {
        "title": "Date at 3, and its own crown",
        "story": "The owner wanted it to simply run, and to keep the crown. A printed ring holds the quartz movement "
        "on the centre of the bore; the date stands upright in its window.",
    },
    "silver dial": {
        "title": "Silver dial on a spacer",
        "story": "The new movement's stem lies higher than the old one's. A spacer behind the dial brings the crown in "
        "line, and the dial stays where it was.",
    },
    "blue dial, crown at 4": {
        "title": "Crown and date at 4",
        "story": "Its crown stands at 4 o'clock, and so does the date. The movement is turned in its ring, and the "
        "disc shows through the window as before.",
    },
}
"""Title and story by the watch as found."""
_ENTRIES_IN_GERMAN = {
    "ivory dial": {
        "title": "Eine kleine Zweizeigeruhr läuft wieder",
        "story": "Eine Damenuhr von 26 mm, deren Werk nicht mehr zu bekommen war. Das elfenbeinfarbene Zifferblatt "
        "blieb, wie es war.\nDer kleinste Ring, den wir fertigen: Seine Wand misst kaum einen Millimeter.",
    },
    "grey dial": {
        "title": "Datum bei 3 und die eigene Krone",
        "story": "Sie sollte einfach laufen und ihre Krone behalten. Ein gedruckter Ring hält das Quarzwerk mittig "
        "in der Bohrung; das Datum steht gerade in seinem Fenster.",
    },
    "silver dial": {
        "title": "Silbernes Zifferblatt auf einem Distanzring",
        "story": "Die Welle des neuen Werks liegt höher als die des alten. Ein Distanzring hinter dem Zifferblatt "
        "bringt die Krone in eine Linie, und das Zifferblatt bleibt, wo es war.",
    },
    "blue dial, crown at 4": {
        "title": "Krone und Datum bei 4",
        "story": "Die Krone steht bei 4 Uhr, das Datum auch. Das Werk sitzt gedreht in seinem Ring, und die Scheibe "
        "zeigt sich wie zuvor im Fenster.",
    },
}


_RING = "Holds the movement on the centre of the bore. Each one is measured against its drawing before it leaves us."
_RING_IN_GERMAN = "Hält das Werk mittig in der Bohrung. Jeder wird vor dem Versand nach seiner Zeichnung gemessen."


@transaction.atomic
def fill_window():
    """Put the entries in the window; the site is not written."""
    shop, by = Shop.current(), visitor()
    Window.objects.create(
        address="https://weir-lane.example/",
        email="hello@weir-lane.example",
        languages=["de"],
        words={"de": _IN_GERMAN},
        **_WINDOW,
    )
    for watch, words in _ENTRIES.items():
        job = Job.objects.filter(watch=watch, state=Job.State.FINISHED).earliest("logged")
        photos = showable_photos(job)
        in_german = _ENTRIES_IN_GERMAN[watch] | {"takes": proposed_words(job, "de")["takes"]}
        fields = proposed(job, shop) | words | {"words": {"de": in_german}}
        entries.save(
            entry=WindowEntry(job=job, with_look=True, with_section=True, **fields),
            photos=[WindowPhoto(photo_id=photo, role=role) for photo, role in proposed_roles(photos).items()],
            by=by,
        )
    _holder(by)


def _holder(by):
    """The ring that others can order by itself."""
    design = HolderDesign.objects.filter(kind="ring").latest("pk")
    german = proposed_holder(design, "de")["title"]
    words = {"title": german, "story": _RING_IN_GERMAN, "materials": "zähes Filament, schwarz\nHarz, grau"}
    WindowHolder.objects.create(
        design=design,
        title=proposed_holder(design, "en")["title"],
        story=_RING,
        materials="tough filament, black\nresin, grey",
        price_from=Decimal(18),
        words={"de": words},
        by=by,
    )
