"""The map page and the pages beside it: one HTML file that needs no network."""
