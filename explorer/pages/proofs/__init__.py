"""Proofs as pictures: the joint alone, the part cut free, the movement in which nothing is done."""
