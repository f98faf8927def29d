"""What was made from what, written down beside it; and whether it still is so."""
