"""From a recipe and its shape to measures: numbers with a passport."""
