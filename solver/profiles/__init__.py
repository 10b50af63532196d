"""Profiles: bars as they are rolled, drawn or formed, with properties from their dimensions."""
