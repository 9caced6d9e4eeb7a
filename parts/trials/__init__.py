"""The fit check of one pairing at many values of its numbers, by the engine's own formulas on columns (NumPy)."""
