"""What a finished page must pass, one file a check.

A check of a page is ``find(sheet, wish)``, a check of the whole file ``find_in_file(pdf, wish)``, a check of
the engine's boxes before they are printed ``find_in_layout(document)``. Each yields faults in plain words.
"""
