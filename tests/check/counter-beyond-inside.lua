-- expect 6: the way beyond a loop's bound leads back into the loop a -> b -> a
-- hint let beyond lead out of the loop
require "lib/head"
counter "c" { most = 2, beyond = "b" }
step "a" { tell = "x", next = { to = "b", counts = "c" } }
step "b" { look = "?", answers = { { "y", to = "end" }, { "n", to = "a" } } }
step "end" { finding = "no fault found" }
