"""The demo workshop: invented parts and pairings, a line each in workshop.json, in the form of pairing sheets."""

import json
from dataclasses import astuple
from datetime import timedelta
from pathlib import Path

from django.db import transaction
from django.utils import timezone

from parts.designs.revisions import keep_design
from parts.designs.workbench import bench_for
from parts.holder.parameters import from_plain
from parts.models import CaseFamily, Pairing
from parts.models.pairing import OTHER_HANDS
from parts.pairings.answer import answer, save_with_report
from parts.sheets import MAKERS

KINDS = {
    "case": "cases",
    "dial": "dials",
    "movement": "movements",
    "hands": "hand_sets",
    "stem": "stems",
    "crown": "crowns",
}


@transaction.atomic
def fill_workshop():
    """Store the demo's parts and pairings, each pairing with its report."""
    data = demo_data()
    store(data)
    for design in data["holder_designs"]:
        _design(**design)


def demo_data():
    """The demo's records, as workshop.json has them."""
    return json.loads((Path(__file__).parent / "workshop.json").read_text(encoding="utf-8"))


def store(data, made_for=""):
    """Store the families, parts and pairings of `data`; `made_for` marks parts and pairings."""
    families = {item["name"]: CaseFamily.objects.create(**item) for item in data["case_families"]}
    parts = {
        kind: {full_name(item): _make(kind, item | {"made_for": made_for}, families) for item in data[listed]}
        for kind, listed in KINDS.items()
    }
    for age, item in enumerate(data["pairings"]):
        chosen = {kind: parts[kind][item.pop(kind)] for kind in KINDS}
        chosen |= {field: parts["hands"][item.pop(field)] for field in OTHER_HANDS if field in item}
        pairing = Pairing.objects.create(**item, **chosen, made_for=made_for)
        save_with_report(pairing=pairing, answered=answer(pairing))
        Pairing.objects.filter(pk=pairing.pk).update(updated=timezone.now() - timedelta(hours=5 * age))


def _design(pairing, kind, own, **facts):
    """Keep a design as the fit check proposes it but for its `own` dimensions; `facts` say how it turned out."""
    chosen = Pairing.objects.with_parts().get(name=pairing)
    bench = bench_for(chosen, kind)
    plain = {name: item.value for name, item in bench.propose({}).items() if item.value is not None}
    rows = {name: [astuple(row) for row in plain.get(name, ())] for name in ("cutouts", "notches") if name in plain}
    parameters = from_plain(kind, plain | rows | own)
    whose = {"family": chosen.case.family, "movement": chosen.movement, "pairing": chosen}
    design = keep_design(kind=kind, parameters=parameters, **whose)
    for name, value in facts.items():
        setattr(design, name, value)
    design.save()


def full_name(item):
    return f"{item['family']}, {item['name']}" if "family" in item else item["name"]


def _make(kind, item, families):
    part = MAKERS[kind](item.pop("sheet"), item["name"])
    if "family" in item:
        item["family"] = families[item["family"]]
    if "rate" in item:
        part.rate_low_s_per_day, part.rate_high_s_per_day = item.pop("rate")
    for name, value in item.items():
        setattr(part, name, value or "" if name in ("lume", "notes") else value)
    part.save()
    return part
