"""Statistics that need no library: the straight line through readings, and Student's t."""
