"""The lake: projection, water body, depth surface, levels, contours."""
