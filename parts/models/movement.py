"""Movements with their posts, date disc and foot holes."""

from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as lazy

from parts.dimensions.field import Dimension, Source
from parts.dimensions.pieces import Piece
from parts.models.base import LOOKED, Measured, Optional, Part

_RATE = [
    MinValueValidator(-3600, "A rate is within 3600 s/day."),
    MaxValueValidator(3600, "A rate is within 3600 s/day."),
]


class Movement(Part):
    """One movement; heights count from its dial rest, angles clockwise from the stem on the dial side."""

    class Kind(models.TextChoices):
        __empty__ = "not given"
        QUARTZ = "quartz", lazy("quartz")
        MECHANICAL = "mechanical", lazy("mechanical")

    kind = models.CharField(max_length=10, choices=Kind.choices, blank=True)
    declared_size = models.CharField(
        max_length=40,
        blank=True,
        help_text=lazy("The size it is sold under, such as 11 1/2'''. For information only."),
    )
    fit_diameter = Dimension("movement.fit_diameter")
    overall_diameter = Dimension("movement.overall_diameter")
    outline = Piece("movement.outline")
    fit_outline = Piece("movement.fit_outline")
    ring_rise = Dimension("movement.ring_rise")
    subsidiary = Piece("movement.subsidiary")
    day_disc = Piece("movement.day")
    stem_axis_depth = Dimension("movement.stem_axis_depth")
    back_height = Dimension("movement.back_height")
    stem_thread = Dimension("movement.stem_thread")
    stem_thread_pitch = Dimension("movement.stem_thread_pitch")
    stem_reference_radius = Dimension("movement.stem_reference_radius")
    post_hour_diameter = Dimension("movement.posts.hour.diameter")
    post_hour_height = Dimension("movement.posts.hour.height")
    post_hour_made_for = Dimension("movement.posts.hour.made_for", Source.SHEET)
    post_hour_end_play = Dimension("movement.posts.hour.end_play")
    post_minute_diameter = Dimension("movement.posts.minute.diameter")
    post_minute_height = Dimension("movement.posts.minute.height")
    post_minute_made_for = Dimension("movement.posts.minute.made_for", Source.SHEET)
    post_minute_end_play = Dimension("movement.posts.minute.end_play")
    post_seconds_diameter = Dimension("movement.posts.seconds.diameter")
    post_seconds_height = Dimension("movement.posts.seconds.height")
    post_seconds_made_for = Dimension("movement.posts.seconds.made_for", Source.SHEET)
    post_seconds_end_play = Dimension("movement.posts.seconds.end_play")
    foot_holes_recorded = models.BooleanField(
        lazy("all foot holes are listed"),
        default=False,
        help_text=lazy("Tick once you have looked, even if there are none."),
    )
    has_date = models.BooleanField(lazy("date"), null=True, blank=True, choices=LOOKED)
    date_angle = Dimension("movement.date.angle")
    date_numeral_radius = Dimension("movement.date.numeral_radius")
    date_numeral_radial = Dimension("movement.date.numeral_radial")
    date_numeral_tangential = Dimension("movement.date.numeral_tangential")
    date_disc_inner_radius = Dimension("movement.date.disc_inner_radius")
    date_disc_outer_radius = Dimension("movement.date.disc_outer_radius")
    has_day = models.BooleanField(lazy("has a day display"), default=False)
    unbalance_hour = Dimension("movement.unbalance_limits.hour", Source.SHEET)
    unbalance_minute = Dimension("movement.unbalance_limits.minute", Source.SHEET)
    unbalance_seconds = Dimension("movement.unbalance_limits.seconds", Source.SHEET)
    cell_type = models.CharField(max_length=40, blank=True, help_text=lazy("As printed on the cell."))
    cell_capacity = Dimension("movement.cell_capacity", Source.SHEET)
    current = Dimension("movement.current", Source.SHEET)
    rate_low_s_per_day = models.FloatField(
        lazy("slowest rate promised"),
        null=True,
        blank=True,
        validators=_RATE,
        help_text=lazy("Losing is minus; from the maker's sheet."),
    )
    crystal_coefficient = models.FloatField(
        lazy("crystal's coefficient"),
        null=True,
        blank=True,
        validators=[MinValueValidator(-1.0), MaxValueValidator(0.0)],
        help_text=lazy("ppm/°C², below zero; about -0.03 for a tuning-fork crystal."),
    )
    crystal_turnover = models.FloatField(
        lazy("crystal's turnover temperature"),
        null=True,
        blank=True,
        validators=[MinValueValidator(-20.0), MaxValueValidator(80.0)],
        help_text=lazy("°C, where the crystal runs fastest; about 25."),
    )
    rate_high_s_per_day = models.FloatField(
        lazy("fastest rate promised"),
        null=True,
        blank=True,
        validators=_RATE,
        help_text=lazy("Gaining is plus; from the maker's sheet."),
    )

    optional = Optional("has_date", "date_", "date")

    units = {
        "rate_low_s_per_day": "s/day",
        "rate_high_s_per_day": "s/day",
        "crystal_coefficient": "ppm/°C²",
        "crystal_turnover": "°C",
    }
    """Units of the plain numbers, which have no plus-minus."""

    @property
    def runs_on_cell(self):
        """Whether it is a quartz movement, or one of no kind on record of which a cell or a current is known."""
        signs = self.cell_type or self.cell_capacity or self.current
        return self.kind == self.Kind.QUARTZ or bool(signs and not self.kind)

    def clean(self):
        super().clean()
        low, high = self.rate_low_s_per_day, self.rate_high_s_per_day
        if low is not None and high is not None and low > high:
            raise ValidationError(
                {"rate_high_s_per_day": f"{high:g} s/day is slower than the slowest rate, {low:g} s/day. Swap the two."}
            )


class FootHole(Measured):
    """A hole in a movement that takes a dial foot."""

    movement = models.ForeignKey(Movement, on_delete=models.CASCADE, related_name="foot_holes")
    angle = Dimension("movement.foot_holes[].angle")
    radius = Dimension("movement.foot_holes[].radius")
    diameter = Dimension("movement.foot_holes[].diameter")

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return f"hole at {self.dimensions['angle'].shown(self) or 'an unknown angle'}"
