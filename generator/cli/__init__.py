"""The command line: the only room that prints, catches and decides the exit code."""
