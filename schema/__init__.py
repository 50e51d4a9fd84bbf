"""The puzzle: grid, givens, constraints, the reading, and their files. Imports pydantic alone."""
