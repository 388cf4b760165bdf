-- expect 5: "limts" is no word of a read step
-- hint did you mean "limits"?
require "lib/head"
step "a" { read = { "volts", at = "TP2" },
  limts = "12 V +/- 1 V", next = "end" }
step "end" { finding = "no fault found" }
