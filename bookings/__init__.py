"""Clients and the life of a job. It may use estimating and stock; neither knows it."""
