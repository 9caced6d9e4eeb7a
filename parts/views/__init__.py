"""The pages of the library, the fit check, the designs and the ranking."""
