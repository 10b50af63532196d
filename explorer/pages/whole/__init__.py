"""The page on the whole truss: what cannot be spared, what props, what shares its load."""
