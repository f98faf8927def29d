"""A page in the browser, on the maker's own machine: recipes made, seen and printed without a terminal.

The recipe files stay the truth. This room imports the others and is imported by none but the command that
opens it; what it needs beyond them is the extra ``rimfold[page]``.
"""
