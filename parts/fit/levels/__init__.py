"""Where the levels of a pairing lie, for each construction of a case."""
