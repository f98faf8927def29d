"""From a YAML file to typed recipes, one a size, every value knowing its place in the file."""
