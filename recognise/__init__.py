"""Pages to readings: find grids, flatten, read glyphs, trace marks, read rules, interpret, doubt."""
