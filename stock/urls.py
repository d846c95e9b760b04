"""Addresses of the shelf."""

from django.urls import URLPattern, path

from stock.views import colours, counting, cover, items, orders, shelf, suppliers

app_name = "stock"
urlpatterns: list[URLPattern] = [
    path("", shelf.shelf, name="shelf"),
    path("cover/", cover.board, name="cover"),
    path("cover/<int:item_id>/", cover.item_chart, name="cover-item"),
    path("items/new/", items.new, name="item-new"),
    path("items/<int:item_id>/", items.story, name="item"),
    path("items/<int:item_id>/edit/", items.edit, name="item-edit"),
    path("items/<int:item_id>/move/", items.move, name="item-move"),
    path("items/<int:item_id>/lots/<int:lot_id>/", items.lot, name="lot"),
    path("count/", counting.count, name="count"),
    path("count/items/<int:item_id>/", counting.write, name="count-write"),
    path("count/items/<int:item_id>/why/", counting.explain, name="count-why"),
    path("count/items/<int:item_id>/off/", counting.take_off, name="count-off"),
    path("count/items/<int:item_id>/weight/", counting.weigh, name="count-weigh"),
    path("count/review/", counting.review, name="count-review"),
    path("count/<int:sheet_id>/finish/", counting.finish, name="count-finish"),
    path("count/<int:sheet_id>/drop/", counting.drop, name="count-drop"),
    path("rules/", counting.rules, name="rules"),
    path("colours/", colours.listed, name="colours"),
    path("colours/new/", colours.new, name="colour-new"),
    path("colours/starter/", colours.starter, name="colours-starter"),
    path("colours/<int:colour_id>/", colours.edit, name="colour"),
    path("suppliers/", suppliers.listed, name="suppliers"),
    path("suppliers/new/", suppliers.new, name="supplier-new"),
    path("suppliers/<int:supplier_id>/", suppliers.supplier, name="supplier"),
    path("suppliers/<int:supplier_id>/offers/", suppliers.add_offer, name="offer-new"),
    path("suppliers/<int:supplier_id>/offers/<int:offer_id>/", suppliers.offer, name="offer"),
    path("suppliers/<int:supplier_id>/offers/<int:offer_id>/remove/", suppliers.remove_offer, name="offer-remove"),
    path("orders/", orders.listed, name="orders"),
    path("orders/add/", orders.add, name="add-to-order"),
    path("orders/<int:order_id>/", orders.order, name="order"),
    path("orders/<int:order_id>/lines/<int:line_id>/", orders.change_line, name="order-line"),
    path("orders/<int:order_id>/place/", orders.place, name="order-place"),
    path("orders/<int:order_id>/expected/", orders.expect, name="order-expected"),
    path("orders/<int:order_id>/receive/", orders.receive, name="order-receive"),
    path("orders/<int:order_id>/cancel/", orders.cancel, name="order-cancel"),
    path("orders/<int:order_id>/close/", orders.close, name="order-close"),
]
