"""Stem and crown."""

from dataclasses import dataclass

from parts.fit.arithmetic.quantities import Quantity
from parts.fit.inputs import a_length, a_size
from parts.fit.records.kinds import choice, optional, yes_no


@dataclass(frozen=True, slots=True)
class Joint:
    """A stem in two parts: the inner one stays in the movement, the outer one in the crown."""

    inner_length: Quantity = a_length("inner length", "from the stem reference to the end of the inner part")
    outer_length: Quantity = a_length("outer length", "from the joint's end of the outer part to the crown's end")
    overlap: Quantity = a_length("overlap", "how far the two parts lie inside each other when joined")


@dataclass(frozen=True, slots=True)
class Stem:
    thread: Quantity = a_size("thread", "outside diameter of the thread", most=5.0)
    thread_pitch: Quantity = a_size("thread pitch", "from crest to crest of the thread", most=2.0)
    thread_length: Quantity = a_length("thread length", "of the thread along the stem")
    diameter: Quantity = a_size("diameter", "of its body, where it is thicker than the thread", most=10.0)
    length: Quantity = a_length("length", "from the movement's stem reference to the stem's end")
    joint: Joint | None = optional(Joint, "joint")
    uncut_gap: Quantity = a_length("gap with the uncut stem", "between crown and seat with the uncut stem fitted")

    @property
    def whole(self) -> Quantity:
        """The stem's length; of a split stem that of its two parts joined, unless it was measured whole."""
        if self.joint is None or self.length.known:
            return self.length
        return self.joint.inner_length + self.joint.outer_length - self.joint.overlap


@dataclass(frozen=True, slots=True)
class Crown:
    thread: Quantity = a_size("thread", "diameter of the stem thread it takes", most=5.0)
    thread_pitch: Quantity = a_size("thread pitch", "from crest to crest of the thread", most=2.0)
    bore_depth: Quantity = a_length("bore depth", "from the stop face to the bottom of the thread, relaxed")
    tube_bore_diameter: Quantity = a_size("tube bore diameter", "inside, where it slides over the case tube")
    style: str | None = choice("style", ("push", "screw"))
    spring_travel: Quantity = a_length("spring travel", "screw crown only: from relaxed to fully pressed")
    own_tube: bool = yes_no("from this case's tube")
