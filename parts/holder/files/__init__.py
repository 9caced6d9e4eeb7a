"""Files of a holder ring or a spacer: STL, 3MF, DXF, STEP."""
