"""What `upkeep` tells: what is worn and due, what to buy."""
