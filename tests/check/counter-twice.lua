-- expect 4: the counter "c" is declared twice; the other stands in line 3 of counter-twice.lua
require "lib/head"
counter "c" { most = 1, beyond = "end" }
counter "c" { most = 1, beyond = "end" }
step "a" { tell = "x", next = { to = "end", counts = "c" } }
step "end" { finding = "no fault found" }
