"""A class: people who make shades in one room, with shared tools and stations, and what they wait for."""
