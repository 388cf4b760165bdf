table.insert(_ENV, 1)
