"""What can be said of a design before it is made."""
