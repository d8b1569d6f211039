"""The append-only journal of a bench.

``entry`` and ``chain`` say what an entry is and which one comes next; ``store`` keeps entries in a
file and ``memory`` in a list, both as ``recorder`` promises; ``projections`` are read models in the
same transaction. ``verify`` walks everything, with ``anchors`` from outside; ``rebuild`` compares
the read models; ``export`` writes what anyone can check without this program.
"""
