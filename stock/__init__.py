"""What is on the shelf, what is promised, and what must be bought by when?

Imports neither estimating nor bookings.
"""
