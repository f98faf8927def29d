"""Ways to fold a sheet, one file each, found by file name."""
