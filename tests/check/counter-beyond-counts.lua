-- expect 5: the way beyond a counter cannot count itself
-- hint let it lead out of the loop
require "lib/head"
counter "c" { most = 1,
  beyond = { to = "end", counts = "c" } }
step "a" { tell = "x", next = { to = "end", counts = "c" } }
step "end" { finding = "no fault found" }
