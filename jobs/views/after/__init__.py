"""Looking after: the lists, and one thing that falls due."""
