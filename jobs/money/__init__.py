"""Sums of money, amounts in forms, and who sees them."""
