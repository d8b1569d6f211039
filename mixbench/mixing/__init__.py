"""The mathematics of mixing: recipes, targets, rebalance. Pure: no I/O, no clock, no Qt."""
