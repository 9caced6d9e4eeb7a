"""Customers, jobs, their stages, photos, money, time, timing runs and history."""

from jobs.models.customer import Customer
from jobs.models.event import Event
from jobs.models.follow_up import FollowUp
from jobs.models.holder_orders.order import HolderOrder, HolderPiece
from jobs.models.holder_orders.price import HolderPrice
from jobs.models.intake import Condition, Draft, Enquiry
from jobs.models.invoice import Invoice, InvoiceLine, InvoiceSeries, InvoiceTax, Payment
from jobs.models.job import GoAhead, Job, JobNumber, LuminousClearance, Option, OptionReport
from jobs.models.past import Hindsight, Outcome, Past, PastCheck, PastText, PastWord, StaleRecord
from jobs.models.photo import Photo
from jobs.models.quote import Order, PaperOut, Quote, QuoteLine, QuotePart, StockCount, StockUse
from jobs.models.shop import Shop
from jobs.models.stage import Stage, Tick, WorkTime
from jobs.models.timing import Reading, TimingRun
from jobs.models.window import Window, WindowEntry, WindowHolder, WindowPhoto

__all__ = [
    "Condition",
    "Customer",
    "Draft",
    "Enquiry",
    "Event",
    "FollowUp",
    "GoAhead",
    "Hindsight",
    "HolderOrder",
    "HolderPiece",
    "HolderPrice",
    "Invoice",
    "InvoiceLine",
    "InvoiceSeries",
    "InvoiceTax",
    "Job",
    "JobNumber",
    "LuminousClearance",
    "Option",
    "OptionReport",
    "Order",
    "Outcome",
    "PaperOut",
    "Past",
    "PastCheck",
    "PastText",
    "PastWord",
    "Payment",
    "Photo",
    "Quote",
    "QuoteLine",
    "QuotePart",
    "Reading",
    "Shop",
    "Stage",
    "StaleRecord",
    "StockCount",
    "StockUse",
    "Tick",
    "TimingRun",
    "Window",
    "WindowEntry",
    "WindowHolder",
    "WindowPhoto",
    "WorkTime",
]
