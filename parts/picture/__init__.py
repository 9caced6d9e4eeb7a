"""Measuring from a picture: the mat, the camera, the plane at true scale, and what is picked on it. No Django."""
