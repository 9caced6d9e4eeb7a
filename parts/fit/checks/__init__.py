"""The checks, a module for each subject."""
