-- expect 3: this list has a gap: a value before the last one is nil
require "lib/head"
step "a" { look = "?", answers = { { "y", to = "end" }, nil,
  { "n", to = "end" } } }
step "end" { finding = "no fault found" }
