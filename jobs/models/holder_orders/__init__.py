"""Holder orders and the price list."""
