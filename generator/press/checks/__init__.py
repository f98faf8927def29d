"""What a finished page must pass, one file a rule.

A check of a page is ``find(sheet, wish)``, a check of the whole file ``find_in_file(pdf, wish)``, a check of
the engine's boxes before they are printed ``find_in_layout(document)``. Each yields a ``PageFault``: what is
wrong and where, and what a person can do about it; the proof adds the name of the rule.

A rule that cannot hold for pages put on sheets for a printer says ``ON_PRINT_SHEETS = False``; one that must
know more than the file, ``needs(wish)``: in a few words what is missing, or None.
"""
