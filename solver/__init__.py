"""Statics, sweeps, inspection and removal of pin-jointed trusses, in SI units: N, m, Pa, K."""
