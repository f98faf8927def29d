"""What a person can do about a page that fails its proof."""

REPORT = "this is a fault of Rimfold: please report it"
SHORTEN = "shorten these words if you wrote them (in a recipe, a list or a technique); if not, please report it"
"""For text that has no room: titles, names and sentences may be a person's own."""
