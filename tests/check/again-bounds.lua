-- expect nothing
require "lib/head"
step "a" { look = "?", answers = { { "y", to = "end" }, { "n", to = "b", again = "end" } } }
step "b" { tell = "x", next = "a" }
step "end" { finding = "no fault found" }
