"""Timing runs and what they say of the rate."""
