"""What goes by a case where nobody chose it: its dial; and where a ranking may begin."""

from parts.models import Case, Dial, Pairing


def dials_of(cases):
    """The dial that goes by each case: of its newest kept pairing, else the first of its family, else None."""
    saved = Pairing.objects.saved().filter(archived=False, case__in=cases, dial__isnull=False).order_by("updated", "pk")
    by_case = dict(saved.values_list("case_id", "dial_id"))
    families = {case.family_id for case in cases if case.family_id}
    of_family = Dial.objects.filter(archived=False, family__in=families).order_by("-name", "-pk")
    by_family = dict(of_family.values_list("family_id", "pk"))
    wanted = [by_case.get(case.pk) or by_family.get(case.family_id) for case in cases]
    dials = Dial.objects.select_related("family").prefetch_related("feet", "furniture").in_bulk(set(wanted) - {None})
    return [dials.get(pk) for pk in wanted]


def of_family(family):
    """A pairing, not saved, of the family's case that was changed last and the dial that goes by it."""
    case = Case.objects.filter(family_id=family or 0, archived=False).order_by("-updated").first()
    return Pairing(case=case, dial=dials_of([case])[0] if case else None)
