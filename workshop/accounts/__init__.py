"""Accounts, their roles, passwords, links and devices."""
