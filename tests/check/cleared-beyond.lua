-- expect nothing
-- Beyond a bound there is no telling what the visits before have said; what they cannot have done is come without clearing.
require "lib/head"
suspect "q3" {}
step "a" { look = "x", power = "on", answers = { { "lit", to = "b", clears = { "q3" } }, { "dark", to = "b" } } }
step "b" { look = "x", power = "on", most = 2, beyond = "found", answers = { { "lit", to = "a" }, { "dark", to = "end" } } }
step "end" { finding = "no fault found" }
step "found" { finding = { "q3" } }
