"""One outline a file.

``KEYS`` names its dimensions in a recipe (the first length is its leading size), ``make(dimensions)``
returns an Outline, ``facts(dimensions)`` its formulas in words.
"""
