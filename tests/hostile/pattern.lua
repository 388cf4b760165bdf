local n = 30
local s = ("a"):rep(n):find(("a?"):rep(n) .. ("a"):rep(n))
