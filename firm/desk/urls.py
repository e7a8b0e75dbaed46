"""Addresses of the desk; they stand in the firm's namespace."""

from django.urls import URLPattern, path

from firm.desk import search

urlpatterns: list[URLPattern] = [
    path("search/", search.search, name="search"),
]
