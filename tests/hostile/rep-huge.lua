local s = ("x"):rep(1 << 40)
