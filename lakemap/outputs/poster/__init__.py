"""The field on paper: one sheet with map, key, table and notes."""
