-- expect warning 6: the finding "found" names "q3", which the step "a" has cleared on a way that leads here
require "lib/head"
suspect "q3" {}
step "a" { look = "x", power = "on", answers = { { "lit", to = "b", clears = { "q3" } }, { "dark", to = "found" } } }
step "b" { tell = "x", next = "found" }
step "found" { finding = { "q3" } }
