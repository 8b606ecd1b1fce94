"""What of a field is not as it was: floats, settings, outlines; and what caused what."""
