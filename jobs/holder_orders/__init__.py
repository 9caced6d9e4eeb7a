"""Holder rings and spacers made for others: ordered, made, checked against the drawing, sent, and how they fitted."""
