error(("long "):rep(100000))
