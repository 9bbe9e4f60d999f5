"""The cutting layout: places on the lattice of the repeat, the least cloth."""
