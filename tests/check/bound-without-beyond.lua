-- expect 4: the step "a" may be visited 3 times at most, and it does not say where the next visit leads
-- hint add beyond = "STEP"
require "lib/head"
step "a" { tell = "x", next = "end", most = 3 }
step "end" { finding = "no fault found" }
