from django.urls import URLPattern, path

from jobs.views import merchants

app_name = "jobs"
urlpatterns: list[URLPattern] = [
    path("merchants/", merchants.merchants, name="merchants"),
    path("merchants/new/", merchants.merchant, name="merchant-new"),
    path("merchants/<int:merchant_id>/", merchants.merchant, name="merchant"),
    path(
        "merchants/<int:merchant_id>/price/", merchants.price, name="merchant-price"
    ),
]
