from django.urls import URLPattern, path

from jobs.views import (
    bookings,
    customers,
    diary,
    enquiries,
    jobs,
    materials,
    merchants,
    orders,
    other_trades,
    tomorrow,
    visits,
)

app_name = "jobs"
urlpatterns: list[URLPattern] = [
    path("enquiries/", enquiries.enquiries, name="enquiries"),
    path("enquiries/new/", enquiries.new, name="enquiry-new"),
    path("visits/times/", enquiries.visit_times, name="visit-times"),
    path("visits/<int:visit_id>/off/", visits.call_off, name="visit-off"),
    path("visits/<int:visit_id>/made/", visits.done, name="visit-made"),
    path("customers/", customers.customers, name="customers"),
    path("customers/suggest/", enquiries.suggest, name="customer-suggest"),
    path("customers/<int:customer_id>/", customers.customer, name="customer"),
    path("customers/<int:customer_id>/edit/", customers.edit, name="customer-edit"),
    path("jobs/", jobs.jobs, name="jobs"),
    path("jobs/<int:job_id>/", jobs.job, name="job"),
    path("jobs/<int:job_id>/edit/", jobs.edit, name="job-edit"),
    path("jobs/<int:job_id>/lost/", jobs.lost, name="job-lost"),
    path("jobs/<int:job_id>/again/", jobs.again, name="job-again"),
    path("jobs/<int:job_id>/visit/", visits.book, name="visit-book"),
    path("jobs/<int:job_id>/trades/new/", other_trades.new, name="other-trade-new"),
    path("trades/<int:trade_id>/", other_trades.edit, name="other-trade-edit"),
    path(
        "trades/<int:trade_id>/late/<int:days>/",
        other_trades.late,
        name="other-trade-late",
    ),
    path("trades/<int:trade_id>/off/", other_trades.drop, name="other-trade-off"),
    path("merchants/", merchants.merchants, name="merchants"),
    path("merchants/new/", merchants.merchant, name="merchant-new"),
    path("merchants/<int:merchant_id>/", merchants.merchant, name="merchant"),
    path("merchants/<int:merchant_id>/price/", merchants.price, name="merchant-price"),
]

urlpatterns += [
    path("diary/", diary.diary, name="diary"),
    path("jobs/<int:job_id>/when/", bookings.when, name="when"),
    path("jobs/<int:job_id>/finish/", bookings.finish, name="finish"),
    path("jobs/<int:job_id>/finish/undo/", bookings.undo, name="finish-undo"),
    path("bookings/<int:booking_id>/off/", bookings.call_off, name="booking-off"),
    path("materials/", materials.materials, name="materials"),
    path("jobs/<int:job_id>/order/", orders.new, name="order-new"),
    path("orders/<int:order_id>/", orders.order, name="order"),
    path("orders/<int:order_id>/send/", orders.send, name="order-send"),
    path("orders/<int:order_id>/off/", orders.call_off, name="order-off"),
    path("orders/<int:order_id>/arrived/", orders.arrived, name="order-arrived"),
    path("tomorrow/", tomorrow.tomorrow, name="tomorrow"),
    path("tomorrow/<int:job_id>/", tomorrow.sheet, name="sheet"),
    path("tomorrow/<int:job_id>/note/", tomorrow.new_note, name="note-new"),
]
