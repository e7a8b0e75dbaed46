from jobs.models.booking import BookedHalf, Booking
from jobs.models.customer import Customer, Site
from jobs.models.day_note import DayNote
from jobs.models.job import Enquiry, Job
from jobs.models.order import MaterialOrder, Merchant, OrderLine, PackPrice
from jobs.models.other_trade import OtherTrade
from jobs.models.visit import VISIT_TIMES, Visit
from jobs.models.work import JobCaution, MaterialNeed, WorkItem

__all__ = [
    "VISIT_TIMES",
    "BookedHalf",
    "Booking",
    "Customer",
    "DayNote",
    "Enquiry",
    "Job",
    "JobCaution",
    "MaterialNeed",
    "MaterialOrder",
    "Merchant",
    "OrderLine",
    "OtherTrade",
    "PackPrice",
    "Site",
    "Visit",
    "WorkItem",
]
