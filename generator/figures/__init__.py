"""From shape, measures and plan to drawings: one SVG a step, to this size's own proportions."""
