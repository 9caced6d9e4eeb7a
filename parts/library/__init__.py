"""The parts library: its kinds, how each is entered, changed, found, shown, and the notes on it."""
