"""Holder orders: the list, a new one, the price list, and one with its steps."""
