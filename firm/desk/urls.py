"""Addresses of the desk; they stand in the firm's namespace."""

from django.urls import URLPattern, path

from firm.desk import search
from firm.desk.views import today

urlpatterns: list[URLPattern] = [
    path("", today.today, name="today"),
    path("search/", search.search, name="search"),
]
