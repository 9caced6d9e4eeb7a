"""Parts as CSV files: one row a part, the same columns in and out."""
