"""Past jobs found by words."""
