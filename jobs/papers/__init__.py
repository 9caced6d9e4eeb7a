"""The papers of a job: made as PDF, kept as the files that went out."""
