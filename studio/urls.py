"""Every address, from the roof."""

from django.urls import include, path

from studio import doors, home, inflated_page, settings_pages

urlpatterns = [
    path("", home.week, name="week"),
    path("welcome/", doors.welcome, name="welcome"),
    path("sign-in/", doors.sign_in, name="login"),
    path("sign-out/", doors.sign_out, name="logout"),
    path("settings/", settings_pages.hub, name="settings"),
    path("settings/studio/", settings_pages.studio_page, name="settings-studio"),
    path("settings/rates/", settings_pages.rates_page, name="settings-rates"),
    path("settings/inflated/", inflated_page.inflated_page, name="settings-inflated"),
    path("settings/password/", settings_pages.own_password, name="settings-password"),
    path("settings/people/", settings_pages.people_page, name="settings-people"),
    path("settings/people/new/", settings_pages.new_person, name="settings-person-new"),
    path("settings/people/<int:person_id>/", settings_pages.person_page, name="settings-person"),
    path("settings/people/<int:person_id>/close/", settings_pages.close_account, name="settings-person-close"),
    path("settings/people/<int:person_id>/open/", settings_pages.open_account, name="settings-person-open"),
    path("settings/people/<int:person_id>/password/", settings_pages.person_password, name="settings-person-password"),
    path("stock/", include("stock.urls")),
    path("", include("bookings.urls")),
]
