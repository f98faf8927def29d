"""One figure a file, named after the task's ``figure``: ``draw(job) -> Picture``."""
