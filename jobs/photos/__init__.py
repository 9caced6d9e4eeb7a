"""Photos of a job: stored, put in order, paired, and marked."""
