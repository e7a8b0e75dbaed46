"""The apps above this one, which a command may work with and an import may not reach.

Only a running firm loads them, by name, as the audit and the reckoner do.
"""

from importlib import import_module

booking = import_module("jobs.actions.booking")
customer = import_module("jobs.actions.customer")
day_note = import_module("jobs.actions.day_note")
enquiry = import_module("jobs.actions.enquiry")
finish = import_module("jobs.actions.finish")
job = import_module("jobs.actions.job")
merchant = import_module("jobs.actions.merchant")
order = import_module("jobs.actions.order")
other_trade = import_module("jobs.actions.other_trade")
visit = import_module("jobs.actions.visit")
slots = import_module("jobs.engine.slots")
slot_words = import_module("jobs.engine.slot_words")
diary = import_module("jobs.queries.booking")
followers = import_module("jobs.queries.followers")
tomorrow = import_module("jobs.queries.tomorrow")
calendar = import_module("jobs.queries.calendar")
job_models = import_module("jobs.models")

look = import_module("quotes.actions.look")
opening = import_module("quotes.actions.opening")
room = import_module("quotes.actions.room")
wall = import_module("quotes.actions.wall")
quote = import_module("quotes.actions.quote")
acceptance = import_module("quotes.actions.acceptance")
rates = import_module("quotes.actions.rates")
measured = import_module("quotes.queries.measured")
basis = import_module("quotes.queries.basis")
specified = import_module("quotes.queries.specified")
quote_models = import_module("quotes.models")

bill = import_module("invoices.actions.bill")
chaser = import_module("invoices.actions.chaser")
hold = import_module("invoices.actions.hold")
payment = import_module("invoices.actions.payment")
bills = import_module("invoices.queries.bill")
bill_models = import_module("invoices.models")
today = import_module("firm.desk.today")
