-- expect 5: beyond its count this leads to "ende", and there is no such step
-- hint did you mean "end"?
require "lib/head"
counter "c" { most = 1,
  beyond = "ende" }
step "a" { tell = "x", next = { to = "end", counts = "c" } }
step "end" { finding = "no fault found" }
