from invoices.models.bill import Bill, BillHold, BillLine
from invoices.models.payment import Allocation, Payment, Reversal

__all__ = ["Allocation", "Bill", "BillHold", "BillLine", "Payment", "Reversal"]
