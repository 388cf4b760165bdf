-- expect nothing
require "lib/head"
counter "c" { most = 2, beyond = "end" }
step "a" { tell = "x", next = { to = "b", counts = "c" } }
step "b" { look = "?", answers = { { "y", to = "end" }, { "n", to = "a" } } }
step "end" { finding = "no fault found" }
