"""Maintenance pages for the library's records."""

from django.contrib import admin

from parts import models


class NothingDeleted:
    """Nothing is deleted here, since there would be no way back: the library's own pages archive."""

    def has_delete_permission(self, request, obj=None):  # noqa: ARG002 - Django's signature
        return False


class RowInline(NothingDeleted, admin.TabularInline):
    extra = 0


def inline(model):
    """The rows of one model as a table on its part's page."""
    return type(f"{model.__name__}Inline", (RowInline,), {"model": model})


class KeptElsewhere(NothingDeleted):
    """Records that other pages make; here they are only looked at and mended."""

    def has_add_permission(self, request):  # noqa: ARG002 - Django's signature
        return False


class RecordAdmin(NothingDeleted, admin.ModelAdmin):
    """Any record: found by name and notes, newest change on top."""

    list_display = ["__str__", "archived", "updated"]
    list_filter = ["archived"]
    search_fields = ["name", "notes"]
    ordering = ["-updated"]
    readonly_fields = ["archived", "created", "updated"]


class PartAdmin(RecordAdmin):
    list_display = ["__str__", "in_stock", "archived", "updated"]


class FamilyPartAdmin(PartAdmin):
    list_display = ["name", "family", "in_stock", "archived", "updated"]
    list_select_related = ["family"]
    search_fields = ["name", "family__name", "notes"]
    raw_id_fields = ["family"]


admin.site.register(models.CaseFamily, RecordAdmin)
admin.site.register(models.Case, FamilyPartAdmin)
admin.site.register([models.Stem, models.Crown], PartAdmin)


@admin.register(models.Dial)
class DialAdmin(FamilyPartAdmin):
    inlines = [inline(models.DialFoot), inline(models.DialFurniture)]


@admin.register(models.Movement)
class MovementAdmin(PartAdmin):
    list_display = ["name", "kind", "declared_size", "in_stock", "archived", "updated"]
    list_filter = ["kind", "archived"]
    inlines = [inline(models.FootHole)]


@admin.register(models.HandSet)
class HandSetAdmin(PartAdmin):
    inlines = [inline(models.Hand)]


@admin.register(models.Pairing)
class PairingAdmin(RecordAdmin):
    list_display = ["name", "case", "movement", "computed_at", "archived", "updated"]
    list_select_related = ["case__family", "movement"]
    raw_id_fields = ["case", "dial", "movement", "hands", "stem", "crown"]
    readonly_fields = [*RecordAdmin.readonly_fields, "report", "computed_at"]


@admin.register(models.CsvFile)
class CsvFileAdmin(KeptElsewhere, admin.ModelAdmin):
    """Uploaded files that wait for their import."""

    list_display = ["name", "kind", "created"]
    list_filter = ["kind"]
    readonly_fields = ["kind", "name", "text", "created"]


@admin.register(models.HolderDesign)
class HolderDesignAdmin(KeptElsewhere, admin.ModelAdmin):
    """Revisions of holder rings and spacers; their dimensions are changed by keeping a new revision."""

    list_display = ["__str__", "result", "archived", "updated"]
    list_filter = ["kind", "result", "archived"]
    list_select_related = ["family", "movement"]
    search_fields = ["family__name", "movement__name", "tried_on", "notes"]
    readonly_fields = ["family", "movement", "kind", "revision", "parameters", "archived", "created", "updated"]
    raw_id_fields = ["pairing"]


@admin.register(models.PrintedPiece)
class PrintedPieceAdmin(NothingDeleted, admin.ModelAdmin):
    """What printed pieces measured."""

    list_display = ["printer", "material", "created", "archived"]
    list_filter = ["printer", "material", "archived"]
    search_fields = ["printer", "material", "notes"]
    raw_id_fields = ["design"]
    readonly_fields = ["archived", "created", "updated"]
