-- expect 5: this answer, given again, leads to "ent", and there is no such step
-- hint did you mean "end"?
require "lib/head"
step "a" { look = "?", answers = { { "y", to = "end",
  again = "ent" } } }
step "end" { finding = "no fault found" }
