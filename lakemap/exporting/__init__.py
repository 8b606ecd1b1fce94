"""A field as files for other programs: rows and features, and one writer for each format."""
