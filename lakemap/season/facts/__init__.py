"""What the sheets tell of a float: where it lies, how it is set, what it weighs, the way out."""
