"""What would go in? The whole library against one pairing, by the fit check's own formulas on columns (NumPy)."""
