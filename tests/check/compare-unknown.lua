-- expect 5: this answer leads to "ends", and there is no such step
-- hint did you mean "end"?
require "lib/head"
step "a" { compare = "left and right", same = "end", unclear = "end",
  different = "ends" }
step "end" { finding = "no fault found" }
