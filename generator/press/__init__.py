"""From HTML to a proved, tagged PDF, and files that appear whole or not at all."""
