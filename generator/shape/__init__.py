"""From one size of a recipe to its geometry: outlines walked by arc length, ring stations, the panel."""
