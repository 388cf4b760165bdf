-- expect 5: the step "a" has no reading "inn"
-- hint did you mean "in"?
require "lib/head"
step "a" { read = { { "in", "power", at = "TP2" }, { "out", "power", at = "TP2" } }, limits = "3 dB +/- 1 dB",
  difference = { "out", "inn" }, otherwise = "end" }
step "end" { finding = "no fault found" }
