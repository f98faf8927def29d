"""From a technique and its measures to ordered steps, each with the reason for its place."""
