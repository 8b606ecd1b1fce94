"""The planner: pages on this machine that change a field, and what answers them."""
