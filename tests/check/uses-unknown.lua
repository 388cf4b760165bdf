-- expect 6: the function uses "lam", and there is no such step
-- hint did you mean "lamp"?
require "lib/head"
step "lamp" { look = "?", answers = { { "y", to = "d" } } }
step "d" { decide = function(v) return "end" end, to = "end",
  uses = { "lam" } }
step "end" { finding = "no fault found" }
