from django.urls import URLPattern, path

from jobs.views import customers, enquiries, jobs, merchants, other_trades, visits

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
