-- expect 6: the loop a -> b -> a has no bound
require "lib/head"
step "a" { tell = "x", next = "b" }
step "b" {
  tell = "y",
  next = "a" }
step "c" { tell = "y", next = "d" }
step "d" { tell = "y", next = "end" }
step "end" { finding = "no fault found" }
