"""Enquiries: read as they come in, answered, turned into jobs or closed."""
