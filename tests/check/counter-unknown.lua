-- expect 6: there is no counter "retrys"
-- hint did you mean "retries"?
require "lib/head"
counter "retries" { most = 3, beyond = "end" }
step "a" { look = "?", answers = { { "y", to = "end" },
  { "n", to = "b", counts = "retrys" } } }
step "b" { tell = "x", next = { to = "a", counts = "retries" } }
step "end" { finding = "no fault found" }
