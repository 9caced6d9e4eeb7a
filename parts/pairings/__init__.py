"""The fit check of one pairing: its page, its paper, its sheet, and pairings side by side."""
