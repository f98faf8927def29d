"""Full-scale patterns: the flat sheet and its aids, drawn true, in tiles, on one sheet, and for a cutter."""
