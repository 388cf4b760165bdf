-- expect 5: "lo" is no position of the control "band"
-- hint did you mean "low"?
require "lib/switched"
step "a" { tell = "x", next = "end",
  set = { band = "lo" } }
step "end" { finding = "no fault found" }
