"""How each dimension is taken: the cards, the order of measuring, and the measuring sheet."""
