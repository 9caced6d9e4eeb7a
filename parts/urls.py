"""Addresses of the parts library."""

from django.urls import include, path, re_path, register_converter

from parts.library.kinds import KINDS
from parts.views import (
    csv,
    design_photos,
    designs,
    examples,
    goes_in,
    instruments,
    library,
    look,
    measuring,
    notes,
    pairings,
    pictures,
    quick_check,
    test_prints,
)


class KindConverter:
    """A kind's slug in an address."""

    regex = "|".join(KINDS)

    def to_python(self, value):
        return KINDS[value]

    def to_url(self, value):
        return getattr(value, "slug", value)


register_converter(KindConverter, "kind")

app_name = "parts"

_FIT_CHECK = [
    path("", pairings.pairings, name="pairings"),
    path("new/", pairings.fit_check, name="pairing-new"),
    path("new/chance/", pairings.chance, name="pairing-new-chance"),
    path("draft/<uuid:key>/", pairings.draft, name="draft"),
    path("draft/<uuid:key>/numbers/", pairings.numbers, name="draft-numbers"),
    path("quick/", quick_check.begin, name="quick-new"),
    path("quick/<uuid:key>/", quick_check.quick_check, name="quick"),
    path("quick/<uuid:key>/chance/", quick_check.chance, name="quick-chance"),
    path("quick/<uuid:key>/keep/", quick_check.keep, name="quick-keep"),
    path("quick/<uuid:key>/discard/", quick_check.discard, name="quick-discard"),
    path("compare/", pairings.compare_pairings, name="pairing-compare"),
    path("upload/", pairings.upload, name="pairing-upload"),
    path("<int:pk>/", pairings.fit_check, name="pairing"),
    path("<int:pk>/numbers/", pairings.numbers, name="numbers"),
    path("<int:pk>/tried/", pairings.tried, name="pairing-tried"),
    path("<int:pk>/measured/", pairings.measured, name="measured"),
    path("<int:pk>/chance/", pairings.chance, name="pairing-chance"),
    path("<int:pk>/put-away/", pairings.archive, name="pairing-put-away"),
    path("<int:pk>/sheet.json", pairings.sheet_json, name="pairing-sheet"),
    path("<int:pk>/look/", look.look, name="pairing-look"),
    path("<int:pk>/look.png", look.look_picture, name="pairing-look-picture"),
]
_HOLDERS = [
    path("", designs.designs, name="holders"),
    path("new/", designs.new, name="holder-new"),
    path("prints/", test_prints.prints, name="holder-prints"),
    path("prints/coupon/", test_prints.coupon_measured, name="coupon-measured"),
    path("prints/coupon.stl", test_prints.coupon_file, {"ending": "stl"}, name="coupon-stl"),
    path("prints/coupon.3mf", test_prints.coupon_file, {"ending": "3mf"}, name="coupon-3mf"),
    path("prints/<int:pk>/put-away/", test_prints.put_print_away, name="holder-print-put-away"),
    re_path(r"^(?P<kind>ring|spacer)\.stl$", designs.mesh, name="holder-mesh"),
    path("<int:pk>/", designs.design, name="holder"),
    path("<int:pk>/result/", designs.result, name="holder-result"),
    path("<int:pk>/put-away/", designs.archive, name="holder-put-away"),
    path("<int:pk>/photos/", design_photos.add, name="holder-photo-add"),
    path("<int:pk>/photos/<int:photo>/", design_photos.show, name="holder-photo"),
    path("<int:pk>/photos/<int:photo>/small/", design_photos.show, {"small": True}, name="holder-photo-small"),
    path("<int:pk>/photos/<int:photo>/put-away/", design_photos.archive, name="holder-photo-put-away"),
    path("<int:pk>/files/<str:ending>", designs.design_file, name="holder-file"),
]
_GOES_IN = [
    path("", goes_in.goes_in, name="goes-in-movements"),
    path("plan/", goes_in.plan, name="goes-in-plan"),
    path("cases/", goes_in.table, name="goes-in-table"),
    path("<kind:kind>/", goes_in.goes_in, name="goes-in"),
    path("<kind:kind>/<int:pk>/pictures/", goes_in.pictures, name="goes-in-pictures"),
]

_PICTURES = [
    path("mats/", pictures.mats, name="mats"),
    path("mats/scanner/", pictures.scanner, name="scanner"),
    path("mats/scanner/<int:pk>/put-away/", pictures.archive_scanner, name="scanner-put-away"),
    path("mats/<int:pk>/mat.pdf", pictures.mat_paper, name="mat-paper"),
    path("mats/<int:pk>/bars/", pictures.bars, name="mat-bars"),
    path("mats/<int:pk>/put-away/", pictures.archive_mat, name="mat-put-away"),
    path("of/<kind:kind>/<int:part>/", pictures.of_part, name="part-pictures"),
    path("<int:pk>/", pictures.picture, name="picture"),
    path("<int:pk>/read/", pictures.read_it, name="picture-read"),
    path("<int:pk>/flat.jpg", pictures.show, {"flat": True}, name="picture-flat"),
    path("<int:pk>/whole.jpg", pictures.show, {"flat": False}, name="picture-whole"),
    path("<int:pk>/pick/", pictures.pick, name="picture-pick"),
    path("<int:pk>/use/", pictures.use, name="picture-use"),
    path("<int:pk>/put-away/", pictures.archive, name="picture-put-away"),
]

urlpatterns = [
    path("pairings/", include(_FIT_CHECK)),
    path("holders/", include(_HOLDERS)),
    path("goes-in/", include(_GOES_IN)),
    path("pictures/", include(_PICTURES)),
    path("", library.index, name="index"),
    path("examples/", examples.change, name="examples"),
    path("how-to-measure/", measuring.how_to_measure, name="how-to-measure"),
    path("how-to-measure/<str:path>/", measuring.card, name="card"),
    path("instruments/", instruments.instruments, name="instruments"),
    path("instruments/<int:pk>/put-away/", instruments.archive, name="instrument-put-away"),
    path("notes/<int:pk>/", notes.change, name="note"),
    path("notes/<int:pk>/put-away/", notes.archive, name="note-put-away"),
    path("<kind:kind>/<int:pk>/notes/add/", notes.add, name="note-add"),
    path("<kind:kind>/", library.part_list, name="list"),
    path("<kind:kind>/add/", library.add, name="add"),
    path("<kind:kind>/pick/", library.pick, name="pick"),
    path("<kind:kind>/look/", library.look, name="look"),
    path("<kind:kind>/<int:pk>/look/", library.look, name="look-again"),
    path("<kind:kind>/export/", csv.export_file, name="export"),
    path("<kind:kind>/template/", csv.template, name="template"),
    path("<kind:kind>/import/", csv.upload, name="import"),
    path("<kind:kind>/import/<int:pk>/", csv.check, name="import-check"),
    path("<kind:kind>/<int:pk>/", library.detail, name="detail"),
    path("<kind:kind>/<int:pk>/measured/<str:path>/", library.measured_here, name="measured-here"),
    path("<kind:kind>/<int:pk>/edit/", library.edit, name="edit"),
    path("<kind:kind>/<int:pk>/copy/", library.copy, name="copy"),
    path("<kind:kind>/<int:pk>/put-away/", library.archive, {"away": True}, name="put-away"),
    path("<kind:kind>/<int:pk>/bring-back/", library.archive, {"away": False}, name="bring-back"),
]
