"""Pictures as SVG: the field, its floats, the rig from the side; what the page draws of them."""
