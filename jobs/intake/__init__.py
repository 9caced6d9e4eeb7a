"""Logging a watch."""
