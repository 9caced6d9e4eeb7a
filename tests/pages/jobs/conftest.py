"""A holder design, and an order of it."""

import pytest

from jobs.holder_orders import steps
from jobs.models import HolderOrder
from parts.designs.revisions import keep_design
from tests.factories import CaseFamilyFactory, CustomerFactory, MovementFactory
from tests.holder.pieces import ring


@pytest.fixture
def design():
    return keep_design(
        family=CaseFamilyFactory(name="Kelpmoor 38"),
        movement=MovementFactory(name="Wick slim"),
        kind="ring",
        pairing=None,
        parameters=ring(plus_minus=0.1),
    )


@pytest.fixture
def order(owner, design):
    customer = CustomerFactory(name="Oda Fenwright", language="de", address="4 Kiln Row")
    order = HolderOrder(design=design, material="tough filament", colour="black", count=2)
    return steps.take(order=order, customer=customer, by=owner)
