"""The stages of a job: what is open, ticked, measured, and the time spent."""
