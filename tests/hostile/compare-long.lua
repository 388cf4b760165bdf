local a, b = ("x"):rep(900000), ("x"):rep(900000)
while a == b do end
