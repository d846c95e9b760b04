"""The pages of a booking, and the client's own page."""
