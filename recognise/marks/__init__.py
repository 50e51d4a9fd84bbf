"""The marks of a grid read from its picture: a network says what stands at each place of the lattice, a decoder puts
the places together to lines, cages and the rest."""
