"""Numbers with their uncertainty, alone or in columns, and the geometry of polygons."""
