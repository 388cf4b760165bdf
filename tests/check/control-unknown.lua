-- expect 5: no control "bend" is declared
-- hint did you mean "band"?
require "lib/switched"
step "a" { tell = "x", next = "end",
  set = { bend = "low" } }
step "end" { finding = "no fault found" }
