"""What to buy: like pieces together, cut from rolls, at the association's own prices."""
