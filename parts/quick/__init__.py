"""The quick check: from a dozen typed numbers to a first verdict, and from there to parts of the library."""
