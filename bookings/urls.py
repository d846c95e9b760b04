"""Addresses of bookings and of the client's link."""

from django.urls import path

from bookings.views import client_link, favourites, jobs, kit, photos, pieces, quotes, sketch, swaps

app_name = "bookings"
urlpatterns = [
    path("enquiries/new/", jobs.enquiry, name="enquiry"),
    path("bookings/", jobs.bookings, name="list"),
    path("bookings/<int:booking_id>/", jobs.detail, name="detail"),
    path("bookings/<int:booking_id>/edit/", jobs.edit, name="edit"),
    path("bookings/<int:booking_id>/cancel/", jobs.cancel, name="cancel"),
    path("bookings/<int:booking_id>/lose/", jobs.lose, name="lose"),
    path("bookings/<int:booking_id>/reopen/", jobs.reopen, name="reopen"),
    path("bookings/<int:booking_id>/kit/", kit.kit, name="kit"),
    path("bookings/<int:booking_id>/kit/promise/", kit.promise, name="kit-promise"),
    path("bookings/<int:booking_id>/kit/<int:kit_id>/let-go/", kit.let_go, name="kit-let-go"),
    path("bookings/<int:booking_id>/kit/out/", kit.load, name="kit-load"),
    path("bookings/<int:booking_id>/kit/back/", kit.unload, name="kit-unload"),
    path("bookings/<int:booking_id>/swap/", swaps.swap, name="swap"),
    path("bookings/<int:booking_id>/pieces/new/", favourites.choose, name="piece-choose"),
    path("bookings/<int:booking_id>/pieces/new/<str:kind>/", pieces.new, name="piece-new"),
    path("bookings/<int:booking_id>/pieces/favourite/<str:kind>/", pieces.keep_favourite, name="piece-favourite"),
    path("bookings/<int:booking_id>/favourites/<int:favourite_id>/", favourites.rename, name="favourite"),
    path("bookings/<int:booking_id>/favourites/<int:favourite_id>/remove/", favourites.remove, name="favourite-remove"),
    path("bookings/<int:booking_id>/pieces/preview/<str:kind>/", pieces.preview, name="piece-preview"),
    path("bookings/<int:booking_id>/pieces/<int:piece_id>/", pieces.edit, name="piece"),
    path("bookings/<int:booking_id>/pieces/<int:piece_id>/remove/", pieces.remove, name="piece-remove"),
    path("bookings/<int:booking_id>/pieces/<int:piece_id>/sketch/", sketch.sketch, name="piece-sketch"),
    path("bookings/<int:booking_id>/pieces/<int:piece_id>/sketch/redraw/", sketch.redraw, name="piece-sketch-redraw"),
    path("bookings/<int:booking_id>/photos/", photos.photos, name="photos"),
    path("bookings/<int:booking_id>/photos/<slug:photo>.jpg", photos.photo, name="photo"),
    path("bookings/<int:booking_id>/photos/<slug:photo>/small.jpg", photos.small, name="photo-small"),
    path("bookings/<int:booking_id>/photos/<slug:photo>/remove/", photos.remove, name="photo-remove"),
    path("bookings/<int:booking_id>/quote/", quotes.issue, name="quote-issue"),
    path("quotes/<int:quote_id>/", quotes.quote, name="quote"),
    path("quotes/<int:quote_id>/quote.pdf", quotes.pdf, name="quote-pdf"),
    path("quotes/<int:quote_id>/picture-<int:position>.svg", quotes.picture, name="quote-picture"),
    path("quotes/<int:quote_id>/withdraw/", quotes.withdraw, name="quote-withdraw"),
    path("quotes/<int:quote_id>/new-link/", quotes.renew, name="quote-new-link"),
    path("q/<str:token>/", client_link.page, name="client"),
    path("q/<str:token>/accept/", client_link.accept, name="client-accept"),
    path("q/<str:token>/quote.pdf", client_link.pdf, name="client-pdf"),
    path("q/<str:token>/picture-<int:position>.svg", client_link.picture, name="client-picture"),
]
