"""The pages of the explorer, one folder each: a layout, thin callbacks, and what they hand to the browser."""
