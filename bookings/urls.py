"""Addresses of bookings and of the client's link."""

from django.urls import URLPattern

app_name = "bookings"
urlpatterns: list[URLPattern] = []
