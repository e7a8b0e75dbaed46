"""Addresses of the desk; they stand in the firm's namespace."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
