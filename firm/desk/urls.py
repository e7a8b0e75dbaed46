"""Addresses of the desk; they stand in the firm's namespace."""

from django.urls import URLPattern, path

from firm.desk import desk, search

urlpatterns: list[URLPattern] = [
    path("", desk.today, name="today"),
    path("search/", search.search, name="search"),
]
