-- expect 7: this function may lead to "ent", and there is no such step
-- hint did you mean "end"?
require "lib/head"
step "l" { look = "?", answers = { { "y", to = "d" } } }
step "d" { decide = function(v) return "end" end, uses = { "l" },
  to = { "end",
         "ent" } }
step "end" { finding = "no fault found" }
