"""The options of a job: fit checks that are considered for it."""
