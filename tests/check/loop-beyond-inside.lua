-- expect 6: the way beyond a loop's bound leads back into the loop a -> b -> a
-- hint let beyond lead out of the loop
require "lib/head"
step "a" { tell = "x", next = "b", most = 3,
  beyond = "b" }
step "b" { look = "?", answers = { { "more", to = "a" }, { "done", to = "end" } } }
step "end" { finding = "no fault found" }
