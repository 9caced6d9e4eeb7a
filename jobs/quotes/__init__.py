"""Quotes: what they begin with, their versions, and what differs between two."""
