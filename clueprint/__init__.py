"""clueprint reads number puzzles from pages and proves them. This package alone is public API."""
