-- expect 5: the step "a" says what lies beyond its last visit, and not how many visits it allows
-- hint add most = 3
require "lib/head"
step "a" { tell = "x", next = "end",
  beyond = "end" }
step "end" { finding = "no fault found" }
