-- expect nothing
require "lib/head"
step "a" { tell = "x", next = "b", most = 3, beyond = "c" }
step "b" { tell = "y", next = "a" }
step "c" { tell = "z", next = "d", most = 3, beyond = "end" }
step "d" { tell = "w", next = "c" }
step "end" { finding = "no fault found" }
