"""A few of the demo's parts in somebody's own workshop: marked as examples, archived or brought back in one step."""

from django.db import transaction

from parts.demo import KINDS, demo_data, full_name, store
from parts.models import Case, CaseFamily, Crown, Dial, HandSet, Movement, Pairing, Stem
from parts.models.base import EXAMPLE

_FAMILY = "Bramblegate 36"
_MODELS = (Case, Dial, Movement, HandSet, Stem, Crown, Pairing)


def are_there() -> bool:
    """Whether examples are in use."""
    return Pairing.objects.filter(made_for=EXAMPLE, archived=False).exists()


def were_there() -> bool:
    """Whether there have ever been examples."""
    return Pairing.objects.filter(made_for=EXAMPLE).exists()


@transaction.atomic
def add() -> Pairing:
    """Put the examples into the library, or bring them back; returns the fit check to look at first."""
    if Pairing.objects.filter(made_for=EXAMPLE).exists():
        archive(archived=False)
    else:
        store(_some(demo_data()), made_for=EXAMPLE)
        _families().update(name=f"{_FAMILY} ({EXAMPLE})")
    return Pairing.objects.filter(made_for=EXAMPLE).order_by("pk")[0]


@transaction.atomic
def archive(*, archived: bool = True) -> None:
    """Take all examples off the lists, or bring them back."""
    _families().update(archived=archived)
    for model in _MODELS:
        model.objects.filter(made_for=EXAMPLE).update(archived=archived)


def _families():
    return CaseFamily.objects.filter(pk__in=Case.objects.filter(made_for=EXAMPLE).values("family"))


def _some(data):
    """The pairings of one case family with all that they need, and every movement and hand set, to look for others."""
    pairings = [item for item in data["pairings"] if item["case"].startswith(_FAMILY)]
    named = {kind: {item[kind] for item in pairings} for kind in KINDS}
    families = [item for item in data["case_families"] if item["name"] == _FAMILY]
    parts = {
        listed: [item for item in data[listed] if kind in ("movement", "hands") or full_name(item) in named[kind]]
        for kind, listed in KINDS.items()
    }
    return {"case_families": families, "pairings": pairings} | parts
