-- expect 6: this waits for "l", and a look step does not come out ok or not
-- hint name a read, collect or adjust step with outcomes
require "lib/head"
step "l" { look = "?", answers = { { "y", to = "b" } } }
step "b" { tell = "x", next = "end", not_yet = "end",
  passed = "l" }
step "end" { finding = "no fault found" }
