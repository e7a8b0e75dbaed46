from django.urls import URLPattern, path

from invoices.views import bills, letters, money, payments

app_name = "invoices"
urlpatterns: list[URLPattern] = [
    path("money/", money.money, name="money"),
    path("jobs/<int:job_id>/bill/", bills.new, name="bill-new"),
    path("bills/<int:bill_id>/", bills.bill, name="bill"),
    path("bills/<int:bill_id>/hold/", bills.hold, name="bill-hold"),
    path("bills/<int:bill_id>/lift/", bills.lift, name="bill-lift"),
    path("bills/<int:bill_id>/account/", bills.from_account, name="bill-from-account"),
    path("customers/<int:customer_id>/payment/", payments.new, name="payment-new"),
    path("payments/<int:payment_id>/back/", payments.take_back, name="payment-back"),
    path("letters/bill/", letters.letter, name="letter"),
    path("letters/bill/paper/", letters.paper, name="letter-paper"),
]
