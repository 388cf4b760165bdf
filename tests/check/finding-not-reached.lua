-- expect 4: no finding can be reached from the step "b"
require "lib/head"
step "a" { look = "?", answers = { { "y", to = "b" }, { "n", to = "end" } } }
step "b" { look = "?", answers = { { "smoke", stop = true } } }
step "end" { finding = "no fault found" }
