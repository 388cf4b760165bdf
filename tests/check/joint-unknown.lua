-- expect 5: the unit declares no joint "w1-a2"
-- hint did you mean "w1-a1"?
require "lib/switched"
step "a" { tell = "x", next = "end",
  breaks = { "w1-a2" } }
step "end" { finding = "no fault found" }
