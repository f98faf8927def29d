"""One outline a file: ``KEYS`` names its dimensions in a recipe, ``make(dimensions)`` returns an Outline."""
