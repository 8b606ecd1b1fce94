"""What people get: the map page, pictures, tables and JSON."""
