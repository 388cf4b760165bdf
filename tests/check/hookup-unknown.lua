-- expect 5: the kit has no hookup "volt lead"
-- hint did you mean "volts lead"?
require "lib/head"
step "a" { read = { "volts", at = "TP2",
  hookup = "volt lead" }, next = "end" }
step "end" { finding = "no fault found" }
