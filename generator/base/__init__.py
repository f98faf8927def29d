"""What every room may use: errors, places in files, units, names found by file."""
