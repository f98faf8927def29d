"""From measures, plan and figures to one document in one language, as HTML."""
