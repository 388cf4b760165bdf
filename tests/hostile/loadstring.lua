loadstring("x = 1")()
