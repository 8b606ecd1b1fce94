"""The season: what is worn and due, what to buy, how to set, inspect and lift a rig."""
