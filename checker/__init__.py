"""Puzzle to proof: one solution, several, none or unknown; smallest conflicts; a filled grid against every rule."""
