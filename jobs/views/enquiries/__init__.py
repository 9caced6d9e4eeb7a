"""Enquiries: the list of those that wait, a new one, and one with its answer."""
