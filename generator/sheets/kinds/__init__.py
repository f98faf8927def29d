"""What single kinds of documents show besides what all of them do: one file a kind, named after it.

A file has ``views(subject, words)``, what its template may name. It may have ``blocks(subject)``, what stands
whole on a page, in the place of the blocks of a step sheet, and ``numbers(subject, words)``, texts whose
numbers may stand on its pages besides those of every document, and ``arrangement(kind, subject)``, which
breaks its pages where a step sheet's way does not serve.
"""
