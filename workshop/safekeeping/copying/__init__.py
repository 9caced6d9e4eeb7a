"""Rows copied into an empty database: from another one, or out of an export."""
