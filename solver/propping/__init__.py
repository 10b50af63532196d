"""What must hold a compressed piece across at its joints: rules, what the truss offers, a better estimate."""
