"""One figure a file, named after the task's ``figure``: ``draw(job) -> Picture``."""

# Here, so that who asks which figures there are need not load what draws them.
PACKAGE = "generator.figures.kinds"
