"""What the bench's outcomes say of the bench rules. Nothing of it is applied by itself."""
