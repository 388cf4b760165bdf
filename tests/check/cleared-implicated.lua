-- expect nothing
require "lib/head"
suspect "q3" {}
step "a" { look = "x", power = "on", answers = { { "lit", to = "b", clears = { "q3" } }, { "dark", to = "found" } } }
step "b" { tell = "x", next = { to = "found", implicates = { "q3" } } }
step "found" { finding = { "q3" } }
