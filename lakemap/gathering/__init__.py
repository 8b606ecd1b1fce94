"""`gather`: soundings, positions and a shore from phones, sounders and logs, into a folder."""
