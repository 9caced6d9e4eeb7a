"""Pairings: parts that are to go together, and what the fit check said of them."""

from functools import reduce
from operator import or_

from django.db import models
from django.utils.text import format_lazy
from django.utils.translation import gettext_lazy as lazy

from parts.dimensions.typed import Beside, picked_at, typed_sheet
from parts.models.base import Own, Record, RecordQuerySet

PARTS = ("case", "dial", "movement", "hands", "stem", "crown")
"""The parts of a pairing, as its fields and as the pairing sheet call them."""


SMALL_SECONDS = "small_seconds_hand_from"
"""The field of a pairing that says which set its small seconds hand comes from, where that is another one."""
HAND_FIELDS = {
    "hour": "hour_hand_from",
    "minute": "minute_hand_from",
    "seconds": "seconds_hand_from",
    "subsidiary": SMALL_SECONDS,
}
"""Each hand as the pairing sheet calls it, and the field that says which other set it comes from."""
OTHER_HANDS = tuple(HAND_FIELDS.values())
CENTRE_HANDS = OTHER_HANDS[:3]
"""Those of them for a hand of the centre."""
TRIED = ("tried_hour", "tried_minute", "tried_seconds", "tried_small_seconds")
"""The fields of a pairing that say what trying a hand on its post said."""


class PairingQuerySet(RecordQuerySet):
    def saved(self):
        """Without drafts: those that somebody saved under a name."""
        return self.filter(draft_key=None)

    def drafts(self):
        """Those that nobody saved yet, but for a job's own, the last one first."""
        return self.filter(draft_key__isnull=False, made_for="", archived=False).order_by("-updated", "-pk")

    def using(self, part, name):
        """Those that use a part of that name ("hands"); a hand set may give a single hand only."""
        fields = ("hands", *OTHER_HANDS) if name == "hands" else (name,)
        return self.filter(reduce(or_, (models.Q(**{field: part}) for field in fields)))

    def with_parts(self):
        """With everything that the pairing sheet needs, in few queries; single hands are read where there are any."""
        return self.select_related(
            "case__family", "dial__family", "movement", "hands", "stem", "crown"
        ).prefetch_related(
            "dial__feet",
            "dial__furniture",
            "movement__foot_holes",
            "hands__hands",
            *(f"{name}__hands" for name in OTHER_HANDS),
        )


def _part(model):
    return models.ForeignKey(f"parts.{model}", on_delete=models.PROTECT, null=True, blank=True, related_name="pairings")


class Tried(models.TextChoices):
    """What trying a hand on its post said."""

    __empty__ = "not tried"
    LOOSE = "loose", lazy("it is loose")
    GRIPS = "grips", lazy("it grips")
    TIGHT = "tight", lazy("it is tight")


def _own_hand(role, help_text=""):
    """One hand from another set than the rest: the watch's own seconds hand over a new hour and minute hand."""
    return models.ForeignKey(
        "parts.HandSet",
        models.PROTECT,
        null=True,
        blank=True,
        related_name="+",
        verbose_name=format_lazy(lazy("{role} hand from"), role=role),
        help_text=help_text,
    )


def _tried(role):
    return models.CharField(
        format_lazy(lazy("{role} hand on its post"), role=role), max_length=5, choices=Tried.choices, blank=True
    )


class Pairing(Own, Record):
    """One choice of parts; a part not chosen is null.

    Its hands are those of the set `hands`, each but where it comes from another one (`hour_hand_from`), and without
    the seconds hand where the watch has none.

    `what_if` maps a path of the pairing sheet to the text typed instead of the part's own number. `report` is
    the fit check's answer as JSON, as it was computed at `computed_at`.

    A draft has a `draft_key`: what somebody chose and typed without saving it, so that it is there again. `typed` holds
    the numbers of parts that are not in the library (see `parts.dimensions.typed`); a part that is chosen goes before
    what was typed of one.
    """

    class Placement(models.TextChoices):
        """Where a spacer goes."""

        AUTO = "auto", lazy("wherever it fits better")
        FRONT = "front", lazy("in front of the dial")
        REAR = "rear", lazy("behind the dial")

    case = _part("Case")
    dial = _part("Dial")
    movement = _part("Movement")
    hands = _part("HandSet")
    hour_hand_from = _own_hand("hour")
    minute_hand_from = _own_hand("minute")
    seconds_hand_from = _own_hand("seconds")
    small_seconds_hand_from = _own_hand(
        "small seconds", lazy("Found by the name of its post, in place of the set’s own small hand of that name.")
    )
    no_seconds_hand = models.BooleanField(
        default=False, help_text=lazy("The watch has two hands, whatever the set has.")
    )
    tried_hour = _tried("hour")
    tried_minute = _tried("minute")
    tried_seconds = _tried("seconds")
    tried_small_seconds = _tried("small seconds")
    stem = _part("Stem")
    crown = _part("Crown")
    placement = models.CharField(lazy("spacer"), max_length=5, choices=Placement.choices, default=Placement.AUTO)
    what_if = models.JSONField(default=dict, blank=True)
    typed = models.JSONField(default=dict, blank=True, editable=False)
    draft_key = models.UUIDField(null=True, unique=True, editable=False)
    report = models.JSONField(null=True, blank=True)
    computed_at = models.DateTimeField(null=True, blank=True)

    objects = PairingQuerySet.as_manager()  # type: ignore[misc]  # a manager of its own in place of every record's

    class Meta(Record.Meta):
        pass

    def hand_set_for(self, role):
        """The set that the hand of this role comes from; None where none is chosen."""
        return getattr(self, self.hand_field(role))

    def hand_field(self, role, post=""):
        """The field that says which set the hand of this role comes from; of small hands, the one for that post."""
        own = HAND_FIELDS.get(role, "hands")
        if own == SMALL_SECONDS and post:
            return self.small_hands.get(post, "hands")
        return own if self.holds(own) else "hands"

    @property
    def small_hands(self):
        """The field whose set each small hand comes from, by its post: one chosen by itself goes before the set's."""
        sets = {field: self.hand_sets.get(field) for field in ("hands", SMALL_SECONDS)}
        return {post: field for field, hand_set in sets.items() if hand_set for post in hand_set.subsidiary or ()}

    def exchange(self, part, other):
        """Put another record wherever it holds this part."""
        for name in (*PARTS, *OTHER_HANDS):
            if getattr(self, name) == part:
                setattr(self, name, other)

    @property
    def hand_sets(self):
        """The sets that its hands come from, by the field that names each: the set first, single hands after it."""
        sets = {name: getattr(self, name) for name in ("hands", *OTHER_HANDS)}
        return {name: hand_set for name, hand_set in sets.items() if hand_set is not None}

    @property
    def kept_hands(self):
        """The hands that stay with the watch: those for the seconds from another set than the hour and minute hand."""
        own = {role: getattr(self, f"{HAND_FIELDS[role]}_id") for role in ("seconds", "subsidiary")}
        return tuple(role for role, key in own.items() if key not in (None, self.hands_id))

    @property
    def hands_in_words(self):
        """Its hands as they are called: "Leaf, seconds hand from Old railway"; empty where none are chosen."""
        sets = self.hand_sets
        words = [str(sets.pop("hands"))] if "hands" in sets else []
        words += [f"{self._meta.get_field(name).verbose_name} {part}" for name, part in sets.items()]
        return ", ".join(words + (["no seconds hand"] if words and self.no_seconds_hand else []))

    @property
    def brought_in(self):
        """The parts that a conversion may bring in, as (name of the part, record) pairs, each record once."""
        parts = [("movement", self.movement), *(("hands", hand_set) for hand_set in self.hand_sets.values())]
        parts += [("stem", self.stem), ("crown", self.crown)]
        return list(dict.fromkeys((name, part) for name, part in parts if part is not None))

    def __str__(self):
        return super().__str__() if self.name or not self.draft_key else self.draft_name

    @property
    def draft_name(self):
        """What a draft without a name is called: by the parts that are chosen."""
        parts = [str(part) for part in (self.case, self.movement) if part]
        return ", ".join(parts) if parts else "Quick check"

    @property
    def numbers_typed(self):
        """How many numbers were typed, those that cannot be read too; what was only picked is none."""
        return sum(1 for entry in self.typed.values() if "value" in entry or "fault" in entry)

    @property
    def typed_parts(self):
        """The parts that are not chosen but typed, as the pairing sheet has them."""
        sheet = typed_sheet(self.typed, self.beside_typed)
        parts = {name: sheet[name] for name in PARTS if sheet.get(name) and name != "hands" and not self.holds(name)}
        typed = sheet.get("hands", {})
        hands = {role: hand for role, hand in typed.items() if self._is_typed(role)}
        return parts | ({"hands": hands} if hands else {})

    @property
    def beside_typed(self):
        """What the chosen parts tell of those that are typed; an outline drawn freely is typed as a rectangle."""
        shape = None
        if case := self.case:
            outline = case.seat_outline or case.opening_outline or case.bore_outline or {}
            shape = {"polyline": "rectangle"}.get(outline.get("shape", ""), outline.get("shape", ""))
        rows = (self.movement and self.movement.subsidiary) or (self.dial and self.dial.subdials)
        names = [row["name"] for row in rows or ()] or list((self.hands and self.hands.subsidiary) or ())
        return Beside(shape, next(iter(names), ""))

    def _is_typed(self, role):
        """Whether a hand is the one that was typed: none is chosen, or it was picked as another than the set's."""
        if self.hand_field(role) != "hands":
            return False
        return not self.holds("hands") or bool(picked_at(self.typed, f"hands.{role}"))

    def holds(self, name):
        """Whether a record is chosen in the field of that name."""
        return getattr(self, f"{name}_id") is not None

    @property
    def chosen(self):
        """The names of the parts that are chosen or typed; the hands are as soon as one of them is."""
        typed = self.typed_parts
        return [name for name in PARTS if self.holds(name) or name in typed or (name == "hands" and self.hand_sets)]

    @property
    def part_keys(self):
        """The primary keys of its parts in one text, the same for the same choice."""
        keys = [str(getattr(self, f"{name}_id") or "") for name in (*PARTS, *OTHER_HANDS)]
        return "-".join([*keys, *sorted(self.typed_parts), *(["no_seconds_hand"] if self.no_seconds_hand else [])])
