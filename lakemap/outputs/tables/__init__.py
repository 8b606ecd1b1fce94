"""What the terminal prints of a field, and the JSON document."""
