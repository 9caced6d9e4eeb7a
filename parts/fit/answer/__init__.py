"""What the fit check answers: the report, in text, and what would make a pairing go."""
