-- expect 4: nothing leads to the step "b"
require "lib/head"
step "a" { tell = "x", next = "end" }
step "b" { tell = "y",
  next = "end" }
step "end" { finding = "no fault found" }
