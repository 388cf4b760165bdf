-- expect 6: the loop a -> c -> a has no bound
require "lib/head"
step "a" { look = "?", answers = { { "y", to = "end" }, { "n", to = "b", again = "c" } } }
step "b" { tell = "x", next = "a" }
step "c" { tell = "x",
  next = "a" }
step "end" { finding = "no fault found" }
