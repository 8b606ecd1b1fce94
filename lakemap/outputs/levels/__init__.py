"""What a lake's gauge readings tell: a table, a document, a plot in the map's panel."""
