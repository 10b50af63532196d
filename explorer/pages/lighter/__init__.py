"""The page on lighter sections: what meets the checks, what stops it, and any section tried on any group."""
