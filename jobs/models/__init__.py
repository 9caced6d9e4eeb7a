"""Customers, jobs, their stages, photos, time, timing runs and history."""

from jobs.models.customer import Customer
from jobs.models.event import Event
from jobs.models.intake import Condition, Draft
from jobs.models.job import GoAhead, Job, JobNumber, LuminousClearance, Option, OptionReport
from jobs.models.past import Hindsight, Outcome, Past, PastCheck, PastText, PastWord, StaleRecord
from jobs.models.photo import Photo
from jobs.models.quote import Order, PaperOut, Quote, QuoteLine, QuotePart, StockCount, StockUse
from jobs.models.shop import Shop
from jobs.models.stage import Stage, Tick, WorkTime
from jobs.models.timing import Reading, TimingRun

__all__ = [
    "Condition",
    "Customer",
    "Draft",
    "Event",
    "GoAhead",
    "Hindsight",
    "Job",
    "JobNumber",
    "LuminousClearance",
    "Option",
    "Order",
    "Outcome",
    "PaperOut",
    "Past",
    "PastCheck",
    "PastText",
    "PastWord",
    "Quote",
    "QuoteLine",
    "QuotePart",
    "Shop",
    "StockCount",
    "StockUse",
    "OptionReport",
    "Photo",
    "Reading",
    "Stage",
    "Tick",
    "TimingRun",
    "StaleRecord",
    "WorkTime",
]
