"""What every request passes through, and who may open what."""
