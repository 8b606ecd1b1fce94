"""Sheets for the boat: what to set, inspect, lift and hand to a member, a page to a float."""
