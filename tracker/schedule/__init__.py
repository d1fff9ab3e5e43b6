"""The network of lots, its forward and backward pass, and who holds what."""
