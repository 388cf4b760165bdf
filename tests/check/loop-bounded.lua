-- expect nothing
require "lib/head"
step "a" { tell = "x", next = "b", most = 3, beyond = "end" }
step "b" { tell = "y", next = "a" }
step "end" { finding = "no fault found" }
