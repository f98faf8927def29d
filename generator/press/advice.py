"""What a person can do about a page that fails its proof."""

REPORT = "this is a fault of Rimfold: please report it"
SHORTEN = "shorten it if the words are yours (from a recipe, list or technique); if not, please report it"
"""For text that has no room: titles, names and sentences may be a person's own."""
