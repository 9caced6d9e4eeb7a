"""The show window: past conversions, chosen one by one, as a static site to put on any web space."""
