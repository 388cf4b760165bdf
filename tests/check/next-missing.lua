-- expect 5: the act step "b" does not say where it leads
-- hint give it next = "STEP"
require "lib/head"
step "a" { tell = "x", next = "b" }
step "b" { act = "y" }
step "end" { finding = "no fault found" }
