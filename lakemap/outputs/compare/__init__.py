"""What `compare` tells: a table, a document, a layer of the map."""
