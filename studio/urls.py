"""Every address, from the roof."""

from django.urls import include, path

from studio import home

urlpatterns = [
    path("", home.week, name="week"),
    path("welcome/", home.welcome, name="welcome"),
    path("sign-in/", home.sign_in, name="login"),
    path("sign-out/", home.sign_out, name="logout"),
    path("settings/", include("studio.settings_urls")),
    path("stock/", include("stock.urls")),
    path("", include("bookings.urls")),
]
