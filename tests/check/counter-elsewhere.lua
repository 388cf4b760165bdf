-- expect 7: the loop a -> b -> a has no bound
-- hint counts = "COUNTER"
require "lib/head"
counter "c" { most = 2, beyond = "end" }
step "a" { tell = "x", next = "b" }
step "b" { look = "?", answers = { { "y", to = { "x" } and "end", counts = "c" },
  { "n", to = "a" } } }
step "end" { finding = "no fault found" }
