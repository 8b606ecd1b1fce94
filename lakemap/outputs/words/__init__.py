"""Sentences and texts for people, and the table of a language."""
