"""Stems and crowns."""

from django.db import models
from django.utils.translation import gettext_lazy as lazy

from parts.dimensions.field import Dimension
from parts.models.base import Part
from parts.models.case import came_out_of


class Stem(Part):
    """A winding or setting stem."""

    thread = Dimension("stem.thread")
    thread_pitch = Dimension("stem.thread_pitch")
    thread_length = Dimension("stem.thread_length")
    diameter = Dimension("stem.diameter")
    length = Dimension("stem.length")
    joint_inner_length = Dimension("stem.joint.inner_length")
    joint_outer_length = Dimension("stem.joint.outer_length")
    joint_overlap = Dimension("stem.joint.overlap")
    uncut_gap = Dimension("stem.uncut_gap")


class Crown(Part):
    """A crown, pushed in or screwed down."""

    class Style(models.TextChoices):
        __empty__ = "not given"
        PUSH = "push", lazy("pushed in")
        SCREW = "screw", lazy("screwed down")

    style = models.CharField(lazy("closes"), max_length=5, choices=Style.choices, blank=True)
    out_of = came_out_of()
    thread = Dimension("crown.thread")
    thread_pitch = Dimension("crown.thread_pitch")
    bore_depth = Dimension("crown.bore_depth")
    tube_bore_diameter = Dimension("crown.tube_bore_diameter")
    spring_travel = Dimension("crown.spring_travel")
