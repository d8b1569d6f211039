"""Read models: pots folded from entries; the shop's recipes, cups and lots read from its files."""
