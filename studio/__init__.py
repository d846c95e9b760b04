"""The floor and the roof: plain values and page parts below every app, settings and the week's page above.

Floor modules import no app; only `studio.urls` and `studio.home` look at all of them.
"""
