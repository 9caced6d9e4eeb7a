"""Looking after watches that have gone home: cells that fall due, warranties that end, what was promised."""
