"""Holder rings and spacers as records and pages: designs by revision, files, measured prints."""
