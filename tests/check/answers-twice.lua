-- expect 4: the step "a" has two answers "Y"
require "lib/head"
step "a" { look = "?", answers = { { "y", to = "end" },
  { "Y", to = "end" } } }
step "end" { finding = "no fault found" }
