"""What is worn, due, moved and mismatched on a day, and on whose word."""
