"""Pieces of an order as they measured, held against the drawing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.db import transaction

from jobs.models import HolderPiece
from parts.designs.revisions import parameters_of
from parts.holder.parameters.to_measure import Size, sizes_of

if TYPE_CHECKING:
    from django.contrib.auth.models import User

    from jobs.models import HolderOrder


@dataclass(frozen=True, slots=True)
class Measured:
    """One size of a piece: what is drawn, and what it measured in mm, None where nobody did."""

    size: Size
    value: float | None

    @property
    def is_off(self) -> bool:
        """Whether it measured outside its limits."""
        return self.value is not None and not self.size.holds(self.value)


@dataclass(frozen=True, slots=True)
class MeasuredPiece:
    """A piece with all of its sizes."""

    piece: HolderPiece
    number: int
    sizes: list[Measured]

    @property
    def is_good(self) -> bool:
        """Whether it counts, and nothing that was measured is off."""
        return not self.piece.is_left_out and not any(size.is_off for size in self.sizes)


def drawn_sizes(order: HolderOrder) -> list[Size]:
    """The dimensions of the order's revision that are measured."""
    return sizes_of(parameters_of(order.design))


def measured_pieces(order: HolderOrder) -> list[MeasuredPiece]:
    """The pieces in the order of measuring, those left out too."""
    drawn = drawn_sizes(order)
    return [
        MeasuredPiece(piece, number, [Measured(size, piece.sizes.get(size.name)) for size in drawn])
        for number, piece in enumerate(order.pieces.all(), start=1)
    ]


@transaction.atomic
def add_piece(*, order: HolderOrder, sizes: dict[str, float], by: User) -> MeasuredPiece:
    """Save what a piece measured."""
    HolderPiece.objects.create(order=order, sizes=sizes, by=by)
    return measured_pieces(order)[-1]
