"""What was planned or drawn, written into a field's own files: all of it or nothing."""
