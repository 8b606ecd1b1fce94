"""Shapes, exact distances, rules and the check."""
