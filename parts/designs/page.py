"""What the pages of holder and spacer show, made ready for their templates."""

import json
from dataclasses import dataclass, fields
from typing import Any
from urllib.parse import urlencode

from django.urls import reverse
from django.utils.safestring import mark_safe

from parts.designs.correction import corrections
from parts.designs.fields import NONE, shown_value
from parts.designs.revisions import differences, numbered, parameters_of
from parts.fit.bands import Verdict
from parts.holder.drawings import ghosts, picture_svg, plan_svg, section_svg, walls_svg
from parts.holder.edges import in_words
from parts.holder.files import step
from parts.holder.findings.design import work_out
from parts.holder.parameters import KINDS, as_plain
from parts.holder.process import advice
from parts.holder.surroundings import surroundings
from parts.models import HolderDesign, PrintedPiece
from parts.pairings.answer import answer
from parts.tools.papers.pdf import to_scale


@dataclass(frozen=True, slots=True)
class FieldRow:
    """One dimension of the form: its bound field, the proposal in words and as typed, and where that comes from."""

    field: object
    where: str
    proposed: str
    placeholder: str
    note: str
    wide: bool


def form_groups(form):
    """The form's dimensions as (group, rows, whether something is typed or wrong there), in the geometry's order."""
    groups = {}
    for item in fields(KINDS[form.kind]):
        proposal = form.proposals.get(item.name)
        note = proposal.note if proposal else "common practice"
        where = item.metadata["input"].where if "input" in item.metadata else item.metadata["where"]
        instead = form.outline_instead(item)
        shown = in_words(instead) if instead else shown_value(item, form.proposed(item))
        wide = not item.metadata.keys().isdisjoint(("rows", "outline"))
        row = FieldRow(form[item.name], where, shown, form.placeholder(item), note, wide)
        groups.setdefault(item.metadata["group"], []).append(row)
    first = next(iter(KINDS[form.kind].__dataclass_fields__.values())).metadata["group"]
    ordered = sorted(groups.items(), key=lambda item: item[0] == first)
    return [(name, rows, i == 0 or any(map(_shows, rows))) for i, (name, rows) in enumerate(ordered)]


def _shows(row):
    """Whether a dimension of a folded group is to be seen: typed, wrong, or an outline that is proposed."""
    return row.field.value() or row.field.errors or (row.wide and row.proposed != NONE)


def answer_context(bench, form):
    """The context of the answer: verdict, findings, drawings, the mesh's address, advice, differences."""
    if form.parameters is None:
        return {"faults": form.faults}
    plain = as_plain(form.parameters)
    parameters = numbered(form.parameters, bench.revision_of(plain))
    design = work_out(parameters, bench.around)
    query = urlencode({"p": json.dumps(as_plain(parameters))})
    return {
        "piece": design,
        "asking": sorted((item for item in design.findings if item.verdict in _TROUBLE), key=_trouble),
        "fitting": [item for item in design.findings if item.verdict is Verdict.FITS],
        "figures": _figures(design, bench.around),
        "picture": mark_safe(picture_svg(design)),
        "ghosts": json.dumps(ghosts(parameters, bench.around)),
        "mesh_address": f"{reverse('parts:holder-mesh', args=[bench.kind])}?{query}",
        "volume": design.mesh.volume,
        "advice": list(advice(form.parameters)),
        "changed": differences(bench.kind, bench.before.parameters, plain) if bench.before else [],
    }


def _figures(design, around):
    """The drawings by name, each as for a wide place and as for a narrow one."""
    narrow_walls = walls_svg(design, only=1) + walls_svg(design, only=-1)
    drawn = {
        "plan": (plan_svg(design, around), plan_svg(design, around, narrow=True)),
        "section": (section_svg(design, around), section_svg(design, around, narrow=True)),
        "walls": (walls_svg(design), narrow_walls),
    }
    return {name: {"wide": mark_safe(wide), "narrow": mark_safe(narrow)} for name, (wide, narrow) in drawn.items()}


_TROUBLE = (Verdict.NO, Verdict.UNCLEAR, Verdict.WORK)


def _trouble(finding):
    """How far down a finding stands: the worst first."""
    return _TROUBLE.index(finding.verdict)


def files_context(design):
    """The files of a kept design, as designed and corrected for each printer that was measured."""
    parameters = parameters_of(design)
    measured = PrintedPiece.objects.in_drawers()
    usable = [item for item in corrections(measured) if item.usable] if design.process != "turned" else []
    return {
        "step_installed": step.installed(),
        "step_missing": step.MISSING,
        "corrected": [
            {
                "correction": item,
                "query": urlencode({"printer": item.printer, "material": item.material}),
                "changed": differences(design.kind, as_plain(parameters), as_plain(item.corrected(parameters))),
                "quality": item.quality(parameters),
            }
            for item in usable
        ],
    }


def design_drawings(design: HolderDesign, *, section: float, plan: float, walls: float) -> list[tuple[str, Any]]:
    """The drawings of a kept design for a paper, (title, drawing), each as large as fits its width in mm."""
    report = answer(design.pairing).report if design.pairing else None
    around = surroundings(report) if report else None
    piece = work_out(parameters_of(design), around) if around else None
    if piece is None:
        return []
    return [
        ("Section along the stem", to_scale(lambda cut, scale: section_svg(cut, around, scale), piece, section)),
        ("Plan from the dial side", to_scale(lambda seen, scale: plan_svg(seen, around, scale), piece, plan)),
        ("Wall sections", to_scale(walls_svg, piece, walls)),
    ]
