-- expect 4: the compare step "a" does not say where "cannot tell" leads
-- hint add unclear = "STEP"
require "lib/head"
step "a" { compare = "left and right", same = "end",
  different = "end" }
step "end" { finding = "no fault found" }
