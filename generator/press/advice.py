"""What a person can do about a page that fails its proof."""

from generator.base.message import message

REPORT = message("this is a fault of Rimfold: please report it")
SHORTEN = message(
    "shorten it if the words are yours (from a recipe, list or technique); if not, please report it"
)
"""For text that has no room: titles, names and sentences may be a person's own."""
