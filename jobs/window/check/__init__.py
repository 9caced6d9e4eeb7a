"""What is personal, and where it would be shown."""
