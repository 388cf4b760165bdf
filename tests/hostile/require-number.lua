require(5)
