"""What `sites` tells: a table, a document, a layer of the map, rows to add."""
