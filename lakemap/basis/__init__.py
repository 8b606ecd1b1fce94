"""Errors, quantities and units, published numbers and the records that cross a border."""
